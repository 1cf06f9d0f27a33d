// Takes the texts that the editor shows out of package.json, so that the packed extension can be put into other languages. package.json
// itself keeps them, readable: what stands in the pack is made from it, and nothing is written twice.

/** Fields whose value is shown to the user. Names that the editor looks things up by are none of them. */
const shown = new Set(['displayName', 'description', 'markdownDescription', 'title', 'label', 'enumDescriptions']);

/**
 * The manifest with a `%key%` in the place of each text, and the texts by their keys, as package.nls.json has them. A key is the way to
 * the text, with the name of a thing where it has one: `commands.fettle.newSpec.title`.
 */
export function takeTexts(manifest) {
  const texts = {};
  const put = (key, text) => {
    if (key in texts) throw new Error(`two texts in package.json have the key ${key}`);
    texts[key] = text;
    return `%${key}%`;
  };
  const take = (value, way, isShown) => {
    if (typeof value === 'string') return isShown ? put(way.join('.'), value) : value;
    if (Array.isArray(value))
      return value.map((each, i) => take(each, [...way, each.command ?? each.id ?? each.name ?? i], isShown));
    if (typeof value !== 'object' || value === null) return value;
    const isText = (name) => shown.has(name) || (name === 'name' && way[0] === 'views');
    return Object.fromEntries(
      Object.entries(value).map(([name, inner]) => [name, take(inner, [...way, name], isText(name))]),
    );
  };
  const { displayName, description, contributes, ...rest } = manifest;
  const top = take({ displayName, description }, [], false);
  const taken = { contributes: take(contributes, [], false), ...rest, ...top };
  // In the order of the original.
  return { manifest: Object.fromEntries(Object.keys(manifest).map((name) => [name, taken[name]])), texts };
}

/** The manifest with the texts in the places of their keys. */
export function putTexts(manifest, texts) {
  return JSON.parse(JSON.stringify(manifest), (_name, value) =>
    typeof value === 'string' ? value.replace(/^%(.+)%$/, (key, name) => texts[name] ?? key) : value,
  );
}
