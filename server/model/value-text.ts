// A value as it would be written.
import type { PlainValue } from '../../grammar/tree.ts';

/** A plain value as it would be written. */
export function textOf(value: PlainValue): string {
  const unit = 'unit' in value && value.unit !== undefined ? ` ${value.unit.text}` : '';
  switch (value.kind) {
    case 'quantity':
      return `${value.number.text}${unit}${value.minutes === undefined ? '' : `${value.minutes.text}'`}`;
    case 'range':
      return `${value.low.text}..${value.high.text}${unit}`;
    case 'tolerance': {
      const same = value.minus.text === `-${value.plus.text}`;
      return same
        ? `${value.nominal.text} ±${value.plus.text}${unit}`
        : `${value.nominal.text} +${value.plus.text} ${value.minus.text}${unit}`;
    }
    case 'clock':
      return `${value.hour}${value.minute === 0 ? '' : `:${String(value.minute).padStart(2, '0')}`} o'clock`;
    case 'ratio':
      return `${value.first.text}:${value.second.text}`;
    case 'open':
      return value.side;
    case 'expression':
      return 'worked out';
  }
}
