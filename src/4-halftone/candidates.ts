/**
 * What `auto` tries, in this order, simplest first: two kinds of scattered dots, and dots that hang together, which weather a
 * wandering dose. (Green noise clusters too, but by the time its clusters are large enough it holds half the tones of fine
 * detail.)
 */
export const autoCandidates = ["floyd-steinberg", "ostromoukhov", "clustered-dot"] as const;
