// A text of anybody's as it stands in quotes in a spec.

/** Marks of writing direction and control letters are seen nowhere and kept nowhere. */
export function quoted(text: string): string {
  const plain = text
    .replace(/[\p{Cc}\u2028\u2029]+/gu, ' ')
    .replace(/[\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]|\p{Cs}/gu, '')
    .replace(/\s+/g, ' ')
    .trim();
  return `"${plain.replace(/[\\"]/g, '\\$&')}"`;
}
