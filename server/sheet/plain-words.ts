// What is done at the bench in plain words: titles, not names, as many as there are, `the upper main bearing shells`. Text alone.
import type { Place, Reference, See, Statement } from '../../grammar/tree.ts';
import type { ActionWord } from '../../grammar/vocabulary.ts';
import { allPlaces } from '../model/feature-places.ts';
import { takesIn } from '../model/measure.ts';
import type { Job, Part, Thing, View } from '../model/view.ts';
import { partWayText, placesText, plainValueText, positionText, runText, valueText } from './action-text.ts';

/** What a thing is called without what its title adds behind a comma, unless another is called the same. */
function shortTitle(thing: Thing, view: View): string {
  const title = thing.title ?? thing.name.replace(/[-_]/g, ' ');
  const head = (each: string): string => (each.split(/[,(]/)[0] ?? each).trim();
  const own = head(title);
  if (own === '' || own === title) return title;
  const isAlone = ![...view.things.values()].some(
    (other) => other !== thing && head(other.title ?? other.name.replace(/[-_]/g, ' ')) === own,
  );
  return isAlone ? own : title;
}

/** In a sentence: `Cylinder block` is cylinder block, `PCV valve` stays. */
function inSentence(title: string): string {
  return /^\p{Lu}\p{Ll}/u.test(title) ? title.charAt(0).toLowerCase() + title.slice(1) : title;
}

/** More than one of it, where that is plain English. */
export function several(words: string): string {
  const [, head = '', tail = ''] = /^([^,(]*?)(\s*[,(].*| of .*)?$/.exec(words) ?? [];
  if (!/^[a-z][a-z -]*[a-z]$/i.test(head) || /s$/i.test(head)) return words;
  const plural = /(?:x|ch|sh|z)$/i.test(head)
    ? `${head}es`
    : /[^aeiou]y$/i.test(head)
      ? `${head.slice(0, -1)}ies`
      : `${head}s`;
  return `${plural}${tail}`;
}

const PHASES: ReadonlyMap<string, string> = new Map([
  ['teardown', 'taking apart'],
  ['inspect', 'looking'],
  ['clean', 'cleaning'],
  ['machine', 'machining'],
  ['assemble', 'putting together'],
  ['install', 'into the vehicle'],
  ['run-in', 'first start'],
  ['store', 'storing'],
]);

/** The phase of a sequence, as it is read. */
export function phaseWords(phase: string): string {
  return PHASES.get(phase) ?? phase;
}

/** What a job begins on; empty where nothing is said. */
export function beginsText(job: Job, view: View): string {
  const { how, sequence } = job.begins ?? {};
  if (how === undefined) return '';
  if (how !== 'after') return `Begins on a ${how === 'whole' ? 'whole engine' : 'bare engine'}.`;
  if (sequence === undefined) return '';
  const title = view.sequences.find((each) => each.name === sequence)?.title;
  return `Begins after ${title === undefined ? sequence.replace(/[-_]/g, ' ') : `"${title}"`}.`;
}

/** What a thing is called in a sentence. */
export function named(name: string, view: View): string {
  const thing = view.things.get(name);
  return thing === undefined ? name.replace(/[-_]/g, ' ') : inSentence(shortTitle(thing, view));
}

/** What a sum or a table calls by name, by its title: `the main bearing cap bore` is `main bearing cap bore`. */
export function calledBy(view: View): (reference: Reference) => string {
  return ({ owner, feature, places }) => {
    const at = placesText(places);
    return `${named(owner.text, view)}${feature === undefined ? '' : ` ${feature.text.replace(/[-_]/g, ' ')}`}${at === '' ? '' : `, ${at}`}`;
  };
}

function listed(texts: readonly string[]): string {
  return texts.length < 2 ? (texts[0] ?? '') : `${texts.slice(0, -1).join(', ')} and ${texts[texts.length - 1]}`;
}

/** How many of a part are meant. */
function countOfPart(part: Part, places: readonly Place[]): number {
  if (places.length === 0) return Math.max(1, part.count);
  return allPlaces(part, undefined).filter((each) => places.some((place) => takesIn(place, each))).length;
}

function numbers(place: Place): readonly string[] {
  if (place.from === undefined) return [];
  return [place.to === undefined || place.to === place.from ? String(place.from) : `${place.from} to ${place.to}`];
}

/** `the upper main bearing shells`, `piston 3`, `the 10 head bolts`. `one` where the step is done for each. */
export function thingWords(reference: Reference, view: View, one = false): string {
  const name = reference.owner.text;
  if (name === 'engine' && reference.feature === undefined) return 'the engine';
  const thing = view.things.get(name);
  const { places } = reference;
  const feature = reference.feature === undefined ? '' : `the ${reference.feature.text.replace(/[-_]/g, ' ')} of `;
  const words = named(name, view);
  if (thing?.kind === 'part') {
    const count = one ? 1 : countOfPart(thing, places);
    const groups = [...new Set(places.flatMap((place) => place.name?.text ?? []))];
    const of = places.flatMap(numbers);
    const called = `${groups.length === 0 ? '' : `${listed(groups)} `}${count > 1 ? several(words) : words}`;
    return of.length > 0 ? `${feature}${called} ${listed(of)}` : `${feature}the ${called}`;
  }
  if (thing?.kind === 'fastener') {
    const each = thing.each === undefined ? undefined : view.things.get(thing.each);
    const all = thing.count * (each?.kind === 'part' ? Math.max(1, each.count) : 1);
    const count = one ? thing.count : all;
    return count > 1 ? `${feature}the ${count} ${several(words)}` : `${feature}the ${words}`;
  }
  if (thing?.kind === 'supply') return words;
  return `${feature}the ${words}`;
}

/** `See manual 5-10, figure 3.` */
export function seeText({ source, place }: See): string {
  return `See ${source.text}${place === undefined ? '' : ` ${place.value}`}.`;
}

/** What is to be done when a job is done. */
export function followOnOf(job: Job | undefined, view: View): readonly string[] {
  return (job?.followOn ?? []).flatMap((each) => [
    ...each.names.map((name) => named(name.text, view)),
    ...(each.text === undefined ? [] : [each.text.value]),
  ]);
}

const BY: ReadonlyMap<string, string> = new Map([
  ['press', 'pressed in'],
  ['heat', 'with heat'],
  ['twist', 'with a twist'],
]);

const VERBS: Readonly<Record<ActionWord, string>> = {
  fit: 'Fit',
  'push-home': 'Push home',
  'line-up': 'Line up',
  remove: 'Take off',
  tighten: 'Tighten',
  snug: 'Run in until seated:',
  loosen: 'Undo',
  secure: 'Secure',
  renew: 'Lay out new:',
  lubricate: 'Oil or grease',
  seal: 'Seal',
  clean: 'Clean',
  inspect: 'Look at',
  measure: 'Measure',
  adjust: 'Adjust',
  machine: 'Machine',
  'hold-back': 'Hold back',
  release: 'Let go of',
  pin: 'Pin',
  unpin: 'Take the timing pin out of',
  align: 'Put together by its marks:',
  drain: 'Drain',
  fill: 'Fill',
  bleed: 'Bleed',
  prime: 'Prime',
  connect: 'Connect',
  disconnect: 'Disconnect',
  plug: 'Plug',
  unplug: 'Unplug',
  mask: 'Mask',
  unmask: 'Take the masking off',
  support: 'Take the weight of',
  lift: 'Lift',
};

const PROVED: ReadonlyMap<string, string> = new Map([
  ['marks', 'the marks'],
  ['links', 'the marked links'],
  ['pins', 'the timing pins'],
  ['dial-gauge', 'dial gauge'],
  ['degree-wheel', 'degree wheel'],
]);

/** A statement of a step as a rebuilder would say it; undefined for remarks. `one`: the step is done for each of something. */
export function plainAction(statement: Statement, view: View, one = false): string | undefined {
  const of = (reference: Reference): string => thingWords(reference, view, one);
  const shaft = (name: string): string => `the ${named(name, view)}`;
  switch (statement.kind) {
    case 'action': {
      const verb = statement.word === 'remove' && statement.mate?.word === 'from' ? 'Take' : VERBS[statement.word];
      const words = [
        `${verb} ${listed(statement.targets.map(of))}`,
        statement.again === true ? 'again' : '',
        statement.together ? 'together' : '',
        statement.mate === undefined ? '' : `${statement.mate.word} ${of(statement.mate.reference)}`,
        statement.method === undefined ? '' : (BY.get(statement.method.word) ?? ''),
        statement.at === undefined ? '' : `at ${valueText(statement.at)}`,
        partWayText(statement.partWay),
        statement.stage === undefined ? '' : `to stage ${statement.stage.value}`,
        statement.to === undefined ? '' : `to ${statement.to.text}`,
        statement.with === undefined ? '' : `with ${thingWords(statement.with, view)}`,
        statement.amount === undefined ? '' : valueText(statement.amount),
        statement.withText === undefined ? '' : `with ${statement.withText.value}`,
        statement.byText === undefined ? '' : `by ${statement.byText.value}`,
        statement.forText === undefined ? '' : `for ${statement.forText.value}`,
        statement.otherwise === undefined
          ? ''
          : `(otherwise ${statement.otherwise.map((text) => text.value).join('; then ')})`,
      ];
      return words.filter((each) => each !== '').join(' ');
    }
    case 'set':
      if (statement.mark !== undefined)
        return `Set ${shaft(statement.shaft.text)} with its ${statement.mark.text} at ${valueText(statement.at)}`;
      return `Turn ${shaft(statement.shaft.text)} to ${positionText(statement)}`;
    case 'rotate':
      return `Turn ${shaft(statement.shaft.text)} by hand, ${plainValueText(statement.amount).replace(/^(?!1 )(.*) turn$/, '$1 turns')}${statement.direction === undefined ? '' : ` ${statement.direction.word}`}`;
    case 'confirm':
      return `Prove ${of(statement.target)}${statement.by === undefined ? '' : ` by ${PROVED.get(statement.by.word) ?? statement.by.word}`}${statement.at === undefined ? '' : ` at ${valueText(statement.at)}`}`;
    case 'run':
    case 'crank':
    case 'wait':
      return runText(statement);
    default:
      return undefined;
  }
}
