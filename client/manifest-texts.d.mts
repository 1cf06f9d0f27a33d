/** The manifest with a `%key%` in the place of each text, and the texts by their keys. */
export function takeTexts(manifest: object): { readonly manifest: object; readonly texts: Record<string, string> };
/** The manifest with the texts in the places of their keys. */
export function putTexts(manifest: object, texts: Readonly<Record<string, string>>): object;
