// A cache of what was made of texts, by the text, for when it stands there again. What was asked for last stays longest.

export interface TextCache<value> {
  get(text: string): value | undefined;
  set(text: string, value: value): void;
  /** Changes for how many characters of text it has room. */
  resize(characters: number): void;
}

/** A cache of what belongs to so many characters of text, and as much again of what was not asked for since. */
export function textCache<value>(most: number): TextCache<value> {
  let mostCached = most;
  /** The older half goes as a whole when the newer is full. */
  let newer = new Map<string, value>();
  let older = new Map<string, value>();
  let length = 0;
  const set = (text: string, value: value): void => {
    length += text.length;
    if (length > mostCached) {
      older = newer;
      newer = new Map();
      length = text.length;
    }
    newer.set(text, value);
  };
  return {
    get(text) {
      const known = newer.get(text);
      if (known !== undefined) return known;
      const before = older.get(text);
      if (before !== undefined) set(text, before);
      return before;
    },
    set,
    resize(characters) {
      mostCached = characters;
    },
  };
}
