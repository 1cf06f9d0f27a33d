/** The page with the help of every code. */
export function helpPages(root: string): string;
