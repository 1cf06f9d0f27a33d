// What takes the spec itself: judging, records, pictures, the sheet. Made ready behind the page, so that it stands before this is read.

export { sheetBody } from '../bench/filled-sheet.tsx';
export { type Judgement, judge, specInPieces, type Verdict, verdictKey, type WorkedOut } from '../bench/judge.ts';
export { readRecord, recordHead } from '../bench/read-record.ts';
export { putInto, recordText } from '../bench/record-text.ts';
export { picturesAt } from '../bench/step-pictures.tsx';
