// What a row of a packed translation goes by: a number made of the English sentence, so that no English stands in the packed table.

/** A short key of a sentence (FNV-1a, 32 bits, in letters and digits). That no two of ours have the same one is tested. */
export function rowKey(english) {
  let sum = 0x811c9dc5;
  for (let at = 0; at < english.length; at += 1) sum = Math.imul(sum ^ english.charCodeAt(at), 0x01000193);
  return (sum >>> 0).toString(36);
}
