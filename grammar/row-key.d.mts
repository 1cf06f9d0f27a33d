/** A short key of a sentence (FNV-1a, 32 bits, in letters and digits). That no two of ours have the same one is tested. */
export function rowKey(english: string): string;
