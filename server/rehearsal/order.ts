// What `after` asks of the written order, of steps and of sequences. No state of the engine.
import { type Told, told } from '../../grammar/told.ts';
import type { Name } from '../../grammar/tree.ts';
import type { Sequence, Step } from '../model/view.ts';
import type { RehearsalFinding, Said } from './rehearsal-finding.ts';

interface Stand {
  readonly thing: Sequence | Step;
  first: number;
  last: number;
}

/** Holds every `after` against the order of some sequences; one that can't be kept by any order is a circle. */
export function checkOrder(sequences: readonly Sequence[]): Said {
  const findings: Said = [];
  const stands = new Map<string, Stand>();
  let at = 0;
  for (const sequence of sequences) {
    const own: Stand = { thing: sequence, first: at, last: at };
    for (const step of sequence.steps) {
      if (!stands.has(step.name)) stands.set(step.name, { thing: step, first: at, last: at });
      own.last = at;
      at += 1;
    }
    if (!stands.has(sequence.name)) stands.set(sequence.name, own);
    if (sequence.steps.length === 0) at += 1;
  }
  const round = new Set<string>();
  for (const stand of stands.values()) {
    for (const name of stand.thing.after) {
      const other = stands.get(name.text);
      if (other === undefined || (other.last < stand.first && other !== stand)) continue;
      const way = wayBack(stands, name.text, stand.thing.name);
      if (way === undefined) findings.push(orderFinding(stand, name, other));
      else if (!way.some((each) => round.has(each))) {
        for (const each of way) round.add(each);
        findings.push(circleFinding(stand, name, other, way));
      }
    }
  }
  return findings;
}

function related(other: Stand, message: Told): RehearsalFinding['related'] {
  const { placed, declaration } = other.thing;
  return [{ placed, span: declaration.name ?? declaration.wordSpan, message }];
}

function circleFinding(stand: Stand, name: Name, other: Stand, way: readonly string[]): RehearsalFinding {
  return {
    code: 'sequence/circle',
    placed: stand.thing.placed,
    span: name,
    message: told`No order can keep this: ${told.list([told.thing(stand.thing), ...way], 'after')}. Take one of these after lines out.`,
    related: other === stand ? [] : related(other, told`${told.named(name.text)} must in turn come later`),
    missing: false,
  };
}

function orderFinding(stand: Stand, name: Name, other: Stand): RehearsalFinding {
  return {
    code: 'sequence/order',
    placed: stand.thing.placed,
    span: name,
    message: told`${told.thing(stand.thing)} has to come after ${told.named(name.text)}, and ${told.named(name.text)} is written later. Move one of them.`,
    related: related(other, told`${told.named(name.text)} stands here`),
    missing: false,
  };
}

/** The names from one thing over its `after` lines to another, the other included; undefined where there is no way. */
function wayBack(stands: ReadonlyMap<string, Stand>, from: string, to: string): readonly string[] | undefined {
  const cameFrom = new Map<string, string | undefined>([[from, undefined]]);
  const queue = [from];
  for (let i = 0; i < queue.length; i += 1) {
    const name = queue[i] ?? '';
    if (name === to) {
      const way: string[] = [];
      for (let each: string | undefined = name; each !== undefined; each = cameFrom.get(each)) way.unshift(each);
      return way;
    }
    for (const next of stands.get(name)?.thing.after ?? []) {
      if (cameFrom.has(next.text)) continue;
      cameFrom.set(next.text, name);
      queue.push(next.text);
    }
  }
  return undefined;
}
