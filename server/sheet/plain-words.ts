// What is done at the bench in plain words: titles, not names, as many as there are, `the upper main bearing shells`. Text alone.

import { isEnglish, speak, spoken } from '../../grammar/spoken.ts';
import { type Argument, type Told, told } from '../../grammar/told.ts';
import type { Action, Place, Reference, See, Statement } from '../../grammar/tree.ts';
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

/** In a sentence: `Cylinder block` is cylinder block, `PCV valve` stays. In a language that writes things large, all stays. */
function inSentence(title: string): string {
  return isEnglish() && /^\p{Lu}\p{Ll}/u.test(title) ? title.charAt(0).toLowerCase() + title.slice(1) : title;
}

/** A name of the spec in a sentence: `Timing_mark` is timing mark. */
export function inText(name: string): string {
  const words = name.replace(/[-_]/g, ' ');
  return isEnglish() ? words.toLowerCase() : words;
}

/** `1 and 2`. */
export function allOf(items: readonly (string | number)[]): string {
  return items.map(String).reduce((one, other) => spoken`${one} and ${other}`);
}

/** More than one of it, where that is plain English; in another language the name as it is. */
export function several(words: string): string {
  if (!isEnglish()) return words;
  const [, head = '', tail = ''] = /^([^,(]*?)(\s*[,(].*| of .*)?$/.exec(words) ?? [];
  if (!/^[a-z][a-z -]*[a-z]$/i.test(head) || /s$/i.test(head)) return words;
  const plural = /(?:x|ch|sh|z)$/i.test(head)
    ? `${head}es`
    : /[^aeiou]y$/i.test(head)
      ? `${head.slice(0, -1)}ies`
      : `${head}s`;
  return `${plural}${tail}`;
}

const PHASES: ReadonlyMap<string, Told> = new Map([
  ['teardown', told`taking apart`],
  ['inspect', told`looking`],
  ['clean', told`cleaning`],
  ['machine', told`machining`],
  ['assemble', told`putting together`],
  ['install', told`into the vehicle`],
  ['run-in', told`first start`],
  ['store', told`storing`],
]);

/** The phase of a sequence, as it is read. */
function phaseWords(phase: string): string {
  return speak(PHASES.get(phase) ?? phase);
}

/** The phase of a sequence beside its title; undefined where none is said, or where the title says as much. */
export function phaseBeside(phase: string | undefined, title: string): string | undefined {
  const words = phase === undefined ? undefined : phaseWords(phase);
  return words === undefined || title.toLowerCase().includes(words.toLowerCase()) ? undefined : words;
}

/** What a job begins on; empty where nothing is said. */
export function beginsText(job: Job, view: View): string {
  const { how, sequence } = job.begins ?? {};
  if (how === undefined) return '';
  if (how !== 'after') return how === 'whole' ? spoken`Begins on a whole engine.` : spoken`Begins on a bare engine.`;
  if (sequence === undefined) return '';
  const title = view.sequences.find((each) => each.name === sequence)?.title;
  return spoken`Begins after ${title === undefined ? sequence.replace(/[-_]/g, ' ') : `"${title}"`}.`;
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
  return speak(told.list(texts));
}

/** How many of a part are meant. */
function countOfPart(part: Part, places: readonly Place[]): number {
  if (places.length === 0) return Math.max(1, part.count);
  return allPlaces(part, undefined).filter((each) => places.some((place) => takesIn(place, each))).length;
}

function numbers(place: Place): readonly string[] {
  if (place.from === undefined) return [];
  return [
    place.to === undefined || place.to === place.from ? String(place.from) : spoken`${place.from} to ${place.to}`,
  ];
}

/** `the upper main bearing shells`, `piston 3`, `the 10 head bolts`. `one` where the step is done for each. */
export function thingWords(reference: Reference, view: View, one = false): string {
  const name = reference.owner.text;
  if (name === 'engine' && reference.feature === undefined) return spoken`the engine${told.nothing}`;
  const thing = view.things.get(name);
  const { places } = reference;
  const feature = reference.feature?.text.replace(/[-_]/g, ' ');
  const withFeature = (of: string): string => (feature === undefined ? of : spoken`the ${feature} of ${of}`);
  const words = named(name, view);
  if (thing?.kind === 'part') {
    const count = one ? 1 : countOfPart(thing, places);
    const groups = [...new Set(places.flatMap((place) => place.name?.text ?? []))];
    const of = places.flatMap(numbers);
    const called = `${groups.length === 0 ? '' : `${listed(groups)} `}${count > 1 ? several(words) : words}`;
    return withFeature(of.length > 0 ? `${called} ${listed(of)}` : spoken`the ${called}`);
  }
  if (thing?.kind === 'fastener') {
    const each = thing.each === undefined ? undefined : view.things.get(thing.each);
    const all = thing.count * (each?.kind === 'part' ? Math.max(1, each.count) : 1);
    const count = one ? thing.count : all;
    return withFeature(count > 1 ? spoken`the ${count} ${several(words)}` : spoken`the ${words}`);
  }
  if (thing?.kind === 'supply') return words;
  return withFeature(spoken`the ${words}`);
}

/** `See manual 5-10, figure 3.` */
export function seeText({ source, place }: See): string {
  return spoken`See ${`${source.text}${place === undefined ? '' : ` ${place.value}`}`}.`;
}

/** What is to be done when a job is done. */
export function followOnOf(job: Job | undefined, view: View): readonly string[] {
  return (job?.followOn ?? []).flatMap((each) => [
    ...each.names.map((name) => named(name.text, view)),
    ...(each.text === undefined ? [] : [each.text.value]),
  ]);
}

const BY: ReadonlyMap<string, Told> = new Map([
  ['press', told`pressed in`],
  ['heat', told`with heat`],
  ['twist', told`with a twist`],
]);

/** What is done, by the word: to what, with all that is said of it. */
const VERBS: Readonly<Record<ActionWord, (what: string) => Told>> = {
  fit: (what) => told`Fit ${what}`,
  'push-home': (what) => told`Push home ${what}`,
  'line-up': (what) => told`Line up ${what}`,
  remove: (what) => told`Take off ${what}`,
  tighten: (what) => told`Tighten ${what}`,
  snug: (what) => told`Run in until seated: ${what}`,
  loosen: (what) => told`Undo ${what}`,
  secure: (what) => told`Secure ${what}`,
  renew: (what) => told`Lay out new: ${what}`,
  lubricate: (what) => told`Oil or grease ${what}`,
  seal: (what) => told`Seal ${what}`,
  clean: (what) => told`Clean ${what}`,
  inspect: (what) => told`Look at ${what}`,
  measure: (what) => told`Measure ${what}`,
  adjust: (what) => told`Adjust ${what}`,
  machine: (what) => told`Machine ${what}`,
  'hold-back': (what) => told`Hold back ${what}`,
  release: (what) => told`Let go of ${what}`,
  pin: (what) => told`Pin ${what}`,
  unpin: (what) => told`Take the timing pin out of ${what}`,
  align: (what) => told`Put together by its marks: ${what}`,
  drain: (what) => told`Drain ${what}`,
  fill: (what) => told`Fill ${what}`,
  bleed: (what) => told`Bleed ${what}`,
  prime: (what) => told`Prime ${what}`,
  connect: (what) => told`Connect ${what}`,
  disconnect: (what) => told`Disconnect ${what}`,
  plug: (what) => told`Plug ${what}`,
  unplug: (what) => told`Unplug ${what}`,
  mask: (what) => told`Mask ${what}`,
  unmask: (what) => told`Take the masking off ${what}`,
  support: (what) => told`Take the weight of ${what}`,
  lift: (what) => told`Lift ${what}`,
};

const PROVED: ReadonlyMap<string, Told> = new Map([
  ['marks', told` by the marks`],
  ['links', told` by the marked links`],
  ['pins', told` by the timing pins`],
  ['dial-gauge', told` by dial gauge`],
  ['degree-wheel', told` by degree wheel`],
]);

const MATES: Readonly<Record<'into' | 'onto' | 'from', (mate: string) => Told>> = {
  into: (mate) => told`into ${mate}`,
  onto: (mate) => told`onto ${mate}`,
  from: (mate) => told`from ${mate}`,
};

/** All that an action says behind what it is done to, in the order in which it is read. */
function actionWords(action: Action, view: View, of: (reference: Reference) => string): readonly string[] {
  const words: readonly (Argument | undefined)[] = [
    action.again === true ? told`again` : undefined,
    action.together ? told`together` : undefined,
    action.mate === undefined ? undefined : MATES[action.mate.word](of(action.mate.reference)),
    action.method === undefined ? undefined : BY.get(action.method.word),
    action.at === undefined ? undefined : told`at ${valueText(action.at)}`,
    partWayText(action.partWay),
    action.stage === undefined ? undefined : told`to stage ${action.stage.value}`,
    action.to === undefined ? undefined : told`to ${action.to.text}`,
    action.with === undefined ? undefined : told`with ${thingWords(action.with, view)}`,
    action.amount === undefined ? undefined : valueText(action.amount),
    action.withText === undefined ? undefined : told`with ${action.withText.value}`,
    action.byText === undefined ? undefined : told`by ${action.byText.value}`,
    action.forText === undefined ? undefined : told`for ${action.forText.value}`,
  ];
  return words.flatMap((each) => (each === undefined ? [] : [speak(each)])).filter((each) => each !== '');
}

/** `Fit the pistons into the block with oil (otherwise …)`. */
function actionText(action: Action, view: View, of: (reference: Reference) => string): string {
  const what = [listed(action.targets.map(of)), ...actionWords(action, view, of)].join(' ');
  const said =
    action.word === 'remove' && action.mate?.word === 'from' ? spoken`Take ${what}` : speak(VERBS[action.word](what));
  if (action.otherwise === undefined) return said;
  const [first = '', ...more] = action.otherwise.map((text) => text.value);
  return `${said} ${spoken`(otherwise ${more.reduce((before, text) => spoken`${before}; then ${text}`, first)})`}`;
}

/** `2 turn`, as a figure has its unit, as it is read. */
function turnsText(amount: string): string {
  const [, number] = /^(.*) turn$/.exec(amount) ?? [];
  if (number === undefined) return amount;
  return /^1(?: |$)/.test(number) ? spoken`${number} turn` : spoken`${number} turns`;
}

/**
 * A statement of a step as a rebuilder would say it; undefined for remarks. `one`: the step is done for each of something. It begins with a
 * capital letter in each language: in some of them the thing stands first.
 */
export function plainAction(statement: Statement, view: View, one = false): string | undefined {
  const said = statementSaid(statement, view, one);
  return said === undefined ? undefined : said.charAt(0).toUpperCase() + said.slice(1);
}

function statementSaid(statement: Statement, view: View, one: boolean): string | undefined {
  const of = (reference: Reference): string => thingWords(reference, view, one);
  const shaft = (name: string): string => spoken`the ${named(name, view)}`;
  switch (statement.kind) {
    case 'action':
      return actionText(statement, view, of);
    case 'set':
      if (statement.mark !== undefined)
        return spoken`Set ${shaft(statement.shaft.text)} with its ${statement.mark.text} at ${valueText(statement.at)}`;
      return spoken`Turn ${shaft(statement.shaft.text)} to ${positionText(statement)}`;
    case 'rotate': {
      const way = statement.direction === undefined ? '' : ` ${speak(told.term(statement.direction.word))}`;
      return spoken`Turn ${shaft(statement.shaft.text)} by hand, ${turnsText(plainValueText(statement.amount))}${way}`;
    }
    case 'confirm': {
      const { by } = statement;
      const how = by === undefined ? '' : speak(PROVED.get(by.word) ?? told` by ${by.word}`);
      const at = statement.at === undefined ? '' : spoken` at ${valueText(statement.at)}`;
      return spoken`Prove ${of(statement.target)}${how}${at}`;
    }
    case 'run':
    case 'crank':
    case 'wait':
      return runText(statement);
    default:
      return undefined;
  }
}
