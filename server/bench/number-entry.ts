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

/** A typed number with its unit as a record writes it, or several with `;` between; undefined where one of them is no number. */
export function typedValue(text: string, unit: string): string | undefined {
  const numbers = text
    .replace(/[\s;]+$/, '')
    .split(';')
    .map(typedNumber);
  if (numbers.some((each) => each === undefined)) return undefined;
  return unit === '' ? numbers.join(', ') : `${numbers.join(', ')} ${unit}`;
}

const WRITTEN = String.raw`(?:-?[\d.]+(?:\/\d+)?|\d+ \d+\/\d+)`;
const SPLIT = new RegExp(String.raw`^(${WRITTEN}(?:, ${WRITTEN})*)(?:\s+(\S.*))?$`);

/** The number, or several with `;` between, and the unit of what is written in a record; the whole as number where it is neither. */
export function splitValue(text: string): { readonly number: string; readonly unit: string } {
  const match = SPLIT.exec(text);
  return match === null
    ? { number: text, unit: '' }
    : { number: (match[1] ?? '').replaceAll(', ', '; '), unit: match[2] ?? '' };
}

/** How many readings stand in what is written in a record; from the least to the greatest is all of them. */
export function readingsOf(text: string): number {
  return text.includes('..') ? Number.POSITIVE_INFINITY : text.split(',').length;
}
