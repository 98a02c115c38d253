/**
 * A source in a few words for a list on a terminal: surnames and year of each paper, e.g. "Floyd, Steinberg 1976". `--json` gives the
 * full citation.
 */
export function shortMethodSource(source: string): string {
  if (source.startsWith("definition")) return "by definition";
  const papers = source.split("; ").flatMap((citation) => {
    const year = citation.match(/\b(?:19|20)\d\d\b/g)?.pop();
    const authors = /^(.*?),? (?:"|unpublished)/.exec(citation)?.[1];
    if (year === undefined || authors === undefined) return [];
    return `${authors.replaceAll(" and ", ", ").split(", ").map(surname).join(", ")} ${year}`;
  });
  return papers.length > 0 ? papers.join("; ") : source;
}

/** "illustrative", and the authors of published figures in it. */
export function shortMaterialSource(source: string): string {
  const kind = source.split(/[:;]/)[0];
  const paper = /\((\p{Lu}[^()\d]*?(?:& [\p{L}]+|et al\.)),.*?\b((?:19|20)\d\d)\)/u.exec(source);
  return paper ? `${kind}; in part ${paper[1]} ${paper[2]}` : kind;
}

/** "R. W. Floyd" → "Floyd", "J.-N. Shiau" → "Shiau". */
const surname = (author: string): string => author.replace(/^(?:\p{Lu}\.[ -]?)+/u, "");
