// A number as someone types it at the bench, with a decimal comma or point, as a record writes it.

/** `0,041` is 0.041; `.002` is 0.002; `1/2` and `1 1/2` stay. Undefined for what is no number, and for what may be two. */
export function typedNumber(text: string): string | undefined {
  const plain = text
    .replace(/[\u2212\u2013]/g, '-')
    .replace(/[\s\u00a0\u2009\u202f]+/g, ' ')
    .trim();
  if (/^-?(?:\d+ )?\d+\/[1-9]\d*$/.test(plain)) return plain;
  const point = plain.replace(/ /g, '').replace(',', '.');
  const match = /^([+-]?)(\d*)(?:\.(\d*))?$/.exec(point);
  if (match === null || point.length > 24) return undefined;
  const [, sign = '', whole = '', rest] = match;
  if (whole === '' && (rest === undefined || rest === '')) return undefined;
  const number = `${whole.replace(/^0+(?=\d)/, '') || '0'}${rest === undefined || rest === '' ? '' : `.${rest}`}`;
  return `${sign === '-' ? '-' : ''}${number}`;
}

/** A typed number with its unit as a record writes it; undefined where there is no number. */
export function typedValue(text: string, unit: string): string | undefined {
  const number = typedNumber(text);
  return number === undefined ? undefined : unit === '' ? number : `${number} ${unit}`;
}

/** The number and the unit of what is written in a record; the whole as number where it is neither. */
export function splitValue(text: string): { readonly number: string; readonly unit: string } {
  const match = /^(-?[\d.]+(?:\/\d+)?|\d+ \d+\/\d+)(?:\s+(\S.*))?$/.exec(text);
  return match === null ? { number: text, unit: '' } : { number: match[1] ?? '', unit: match[2] ?? '' };
}
