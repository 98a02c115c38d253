/**
 * The methods that `auto` tries, finest texture first: two with scattered dots, one whose dots clump, and one with a screen of
 * clusters. Of the two with scattered dots, ostromoukhov has fewer patterns of its own. Clusters vary less with the dose.
 */
export const autoCandidates = ["ostromoukhov", "floyd-steinberg", "green-noise", "clustered-dot"] as const;
