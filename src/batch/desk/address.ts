/** The address of a file below the page's folder. */
export const addressOf = (path: string): string => path.split("/").map(encodeURIComponent).join("/");
