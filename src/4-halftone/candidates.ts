/**
 * The methods that `auto` tries, simplest first: two with scattered dots, and one with clustered dots, which vary less with the
 * dose. (Green noise has clusters too, but with clusters of that size it holds only half the tones of fine detail.)
 */
export const autoCandidates = ["floyd-steinberg", "ostromoukhov", "clustered-dot"] as const;
