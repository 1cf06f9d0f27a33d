// What the lexer says about characters, in the trade's words, with the ways out.

import type { Fault } from './fault.ts';
import { type Told, told } from './told.ts';

const fault = (code: Fault['code'], start: number, end: number, message: Told, fixes: Fault['fixes'] = []): Fault => ({
  code,
  start,
  end,
  message,
  fixes,
});

/** `0,05 mm`, `24,5 N.m`, `6,200`: a comma glued between digits. */
export function decimalComma(text: string, start: number, end: number, pieces: readonly string[]): Fault {
  const written = text.slice(start, end);
  const change = (to: string): Fault['fixes'][number] => ({
    title: told`Write ${to}`,
    edits: [{ start, end, text: to }],
  });
  const whole = pieces.every((piece) => !piece.includes('.'));
  const decimal = pieces.length === 2 && whole ? pieces.join('.') : undefined;
  const grouped =
    whole && pieces.slice(1).every((piece) => piece.length === 3) && !(pieces[0] ?? '').startsWith('0')
      ? pieces.join('')
      : undefined;
  // A list has no noughts in it, and no numbers that begin with one.
  const listed = whole && !pieces.some((piece) => piece.startsWith('0')) ? pieces.join(', ') : undefined;
  const readings = [decimal, grouped, listed].filter((reading) => reading !== undefined);
  const meant = readings.length > 1 ? told.list(readings, 'or') : (readings[0] ?? pieces.join(', '));
  return fault(
    'syntax/decimal-comma',
    start,
    end,
    told`A comma stands between digits in ${written}. Decimals have a point here, and a list has a blank after its comma: ${meant}?`,
    readings.map(change),
  );
}

/** `M8x1,25`. */
export function threadComma(text: string, start: number, end: number, usual: string): Fault {
  return fault(
    'syntax/decimal-comma',
    start,
    end,
    told`A comma stands between digits in ${text.slice(start, end)}. Decimals have a point here: ${usual}?`,
    [{ title: told`Write ${usual}`, edits: [{ start, end, text: usual }] }],
  );
}

/** `// a remark`. */
export function otherComment(start: number): Fault {
  return fault('syntax/stray-character', start, start + 2, told`Comments begin with # here, not with //.`, [
    { title: told`Write #`, edits: [{ start, end: start + 2, text: '#' }] },
  ]);
}

/** `0.15...20`: two dots and `.20`, or three dots and `20`. */
export function threeDots(start: number, digits: string): Fault {
  const end = start + 3;
  const readings = [`..0.${digits}`, `..${digits}`];
  return fault(
    'syntax/unexpected',
    start,
    end,
    told`Three dots before ${digits} can be read in two ways: is ${told.list(readings, 'or')} meant?`,
    readings.map((to) => ({
      title: told`Write ${to}`,
      edits: [{ start, end, text: to.slice(0, to.length - digits.length) }],
    })),
  );
}

/** `#3`: a number sign that makes the rest of the line a comment. */
export function numberAfterHash(text: string, start: number, end: number): Fault {
  const digits = /^#(\d+)/.exec(text.slice(start, end))?.[1] ?? '';
  return fault(
    'syntax/stray-character',
    start,
    start + 1 + digits.length,
    told`Everything from # to the end of the line is a comment, so ${digits} is not read as a number. Write ${digits} alone, or put a blank after # if a comment is meant.`,
    [
      { title: told`Write ${digits}`, edits: [{ start, end: start + 1, text: '' }] },
      { title: told`It is a comment: put a blank after #`, edits: [{ start: start + 1, end: start + 1, text: ' ' }] },
    ],
  );
}

export function inchMark(start: number): Fault {
  return fault('unit/unknown', start, start + 1, told`The inch mark " opens a text here and is not a unit. Write in.`, [
    { title: told`Write in`, edits: [{ start, end: start + 1, text: ' in' }] },
  ]);
}

export function miswrittenUnit(text: string, start: number, end: number, usual: string): Fault {
  return fault(
    'unit/unknown',
    start,
    end,
    told`${text.slice(start, end).replace(/\s+/g, ' ')} is not how this unit is written: write ${usual}.`,
    [{ title: told`Write ${usual}`, edits: [{ start, end, text: usual }] }],
  );
}

export function unclosedText(text: string, start: number, end: number): Fault {
  let stop = end;
  while (stop > start + 1 && /\s/.test(text[stop - 1] ?? '')) stop -= 1;
  return fault(
    'syntax/unclosed',
    start,
    stop,
    told`This text is not closed: a quote " is missing at its end. It is read to the end of the line.`,
    [{ title: told`Close the text at the end of the line`, edits: [{ start: stop, end: stop, text: '"' }] }],
  );
}

export function mailMark(text: string, start: number, end: number): Fault {
  const stop = text[end] === ' ' ? end + 1 : end;
  return fault('syntax/stray-character', start, end, told`This > comes from a quoted mail. Take it out.`, [
    { title: told`Take out the >`, edits: [{ start, end: stop, text: '' }] },
  ]);
}

export function strayCharacters(text: string, start: number, end: number): Fault {
  const written = text.slice(start, end);
  const shown = written.length > 12 ? `${written.slice(0, 12)}…` : written;
  const hint = /^;+$/.test(written)
    ? told` Nothing is needed at the end of a line.`
    : /^['’‘`´]+$/u.test(written)
      ? told` Texts stand in double quotes: "…".`
      : /^\[|\]$/.test(written)
        ? told` Brackets are round: ( ).`
        : told.nothing;
  return fault('syntax/stray-character', start, end, told`${shown} has no meaning here.${hint}`, [
    { title: told`Take out ${shown}`, edits: [{ start, end, text: '' }] },
  ]);
}

/** Soft hyphens and direction marks, which nobody sees. */
export function hiddenCharacters(text: string, start: number, end: number, which: RegExp): Fault {
  const clean = text.slice(start, end).replace(which, '');
  return fault(
    'syntax/stray-character',
    start,
    end,
    told`Here are characters that nobody sees (soft hyphens or direction marks), as pasted text has them. Take them out.`,
    [{ title: told`Take out the hidden characters`, edits: [{ start, end, text: clean }] }],
  );
}
