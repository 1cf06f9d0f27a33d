// What would stop a part coming out: what covers it, holds it down, is joined to it, runs round it, or stands outside it on its shaft, and
// through which hole it comes. What is told by the order of fitting alone is a guess. What comes off in all is in what-comes-off.ts.

import { type Told, told } from '../../grammar/told.ts';
import { coveredBy, partsOfDrive } from '../model/covered.ts';
import { shaftOf } from '../model/drive-sums.ts';
import { isA, keyedBy, sealedBy, type TradeKind } from '../model/trade-names.ts';
import type { Drive, Part } from '../model/view.ts';
import { closesOver, isAtFlywheelEnd, isGasket, isOnTopOfHead, isRockerGear, isShell } from './comes-with.ts';
import { turningParts } from './drive-parts.ts';
import type { Build } from './how-it-went-on.ts';

/** `said`: a statement of the spec. `known`: by the nature of the thing. `guess`: by the order of fitting alone. */
export type Surety = 'said' | 'known' | 'guess';

export interface InTheWay {
  readonly name: string;
  /** Why, in words. */
  readonly why: Told;
  readonly surety: Surety;
}

type Rule = (part: Part, build: Build) => readonly InTheWay[];

const known = (name: string, why: Told): InTheWay => ({ name, why, surety: 'known' });
const said = (name: string, why: Told): InTheWay => ({ name, why, surety: 'said' });

function isLater(build: Build, name: string, than: string): boolean {
  return build.last(name) > build.last(than);
}

function shareMate(build: Build, one: string, other: string): boolean {
  const mates = build.mates(other);
  return build.mates(one).some((mate) => mates.includes(mate));
}

/** What cylinders are bored in by the names of the trade, the innermost first. */
const BORED: readonly (readonly TradeKind[])[] = [['liner'], ['barrel', 'cylinder'], ['block']];

/** The part that the cylinders are bored in: the one that the engine's bore names, else by its name. */
export function boreOf(build: Build): Part | undefined {
  const { engine, parts } = build.view;
  for (const statement of engine?.statements ?? []) {
    if (statement.word !== 'bore') continue;
    const text = engine?.placed.section.text.slice(statement.start, statement.end) ?? '';
    const named = build.part(/(\p{L}[\p{L}\p{N}_-]*)\s*\.\s*\p{L}/u.exec(text)?.[1] ?? '');
    if (named !== undefined) return named;
  }
  for (const kinds of BORED) {
    const found = parts.find((each) => isA(each, ...kinds));
    if (found !== undefined) return found;
  }
  return undefined;
}

/** The rod that a piston hangs on, by what it goes onto or by their number. */
function rodOf(piston: Part, build: Build): Part | undefined {
  const onto = build.mates(piston.name).flatMap((mate) => build.part(mate) ?? []);
  return (
    onto.find(({ name }) => isA(name, 'rod')) ??
    build.view.parts.find(({ name, count }) => isA(name, 'rod') && count === piston.count)
  );
}

function pistonsOf(rod: Part, build: Build): readonly Part[] {
  return build.view.parts.filter((each) => isA(each.name, 'piston') && rodOf(each, build) === rod);
}

/** A piston on its rod, in its bore before anything closed over it from above. */
function comesOutOnTop(piston: string, bore: Part, build: Build): boolean {
  return build.last(piston) >= 0 && !isLater(build, bore.name, piston);
}

const covers: Rule = (part, { view }) =>
  view.parts.flatMap((cover) =>
    coveredBy(cover, view).flatMap(({ name, feature, drive, kind }) => {
      if (kind === 'part' && name === part.name && feature === undefined)
        return [said(cover.name, told`covers ${drive ?? name}`)];
      const bolt = kind === 'fastener' ? view.things.get(name) : undefined;
      const holds = bolt?.kind === 'fastener' && bolt.clamps.some((clamp) => clamp.part === part.name);
      return holds ? [said(cover.name, told`covers ${name}, which holds ${part.name}`)] : [];
    }),
  );

const clampedOver: Rule = (part, build) =>
  build.view.fasteners.flatMap((fastener) => {
    if (!fastener.clamps.some((clamp) => clamp.part === part.name)) return [];
    return fastener.clamps.flatMap(({ part: other }) => {
      if (other === part.name || isGasket(other)) return [];
      const over = isGasket(part.name) || isLater(build, other, part.name);
      return over ? [said(other, told`lies over ${part.name}, under the same ${fastener.name}`)] : [];
    });
  });

/** A gasket lies under what it is named after. */
const namedAfter: Rule = (part, build) => {
  const over = isA(part, 'gasket') ? build.part(sealedBy(part.name) ?? '') : undefined;
  return over === undefined || over === part ? [] : [known(over.name, told`lies over ${part.name}`)];
};

/** A key lies in its shaft under the wheel that it is named after; under the next one on that shaft where its name tells none. */
const underWheel: Rule = (part, build) => {
  if (!isA(part, 'key')) return [];
  const named = build.part(keyedBy(part.name) ?? '');
  if (named !== undefined) return [known(named.name, told`lies over ${part.name}`)];
  const wheel = build.fits.find(
    ({ name, mate, order }) =>
      mate !== undefined &&
      order > build.last(part.name) &&
      build.mates(part.name).includes(mate) &&
      build.part(name)?.fixedTo === mate,
  );
  return wheel === undefined
    ? []
    : [{ name: wheel.name, why: told`went onto ${wheel.mate ?? ''} next after ${part.name}`, surety: 'guess' }];
};

const sitsOn: Rule = (part, build) =>
  build.fits.flatMap(({ name, mate, order }) => {
    if (mate !== part.name || order <= build.last(part.name) || isA(name, 'ring')) return [];
    const other = build.part(name);
    if (other === undefined || isGasket(name)) return [];
    if (shaftOf(build.view, name) === part.name) return [known(name, told`turns with ${part.name}`)];
    if (isA(name, 'cap') || isA(name, 'piston') || isA(name, 'rod'))
      return [known(name, told`is joined to ${part.name}`)];
    if (isA(name, 'piston-pin')) return [known(name, told`joins ${part.name} to its rod`)];
    if (isA(part.name, 'lifter') && isA(name, 'pushrod')) return [known(name, told`stands in ${part.name}`)];
    return [{ name, why: told`went onto ${part.name} after it`, surety: 'guess' as const }];
  });

/** Turns with a shaft, though no step says what it goes onto. */
const turnsWith: Rule = (part, { view }) =>
  view.parts.flatMap(({ name, fixedTo }) =>
    fixedTo === part.name ? [known(name, told`turns with ${part.name}`)] : [],
  );

const together: Rule = (part, build) =>
  build
    .fitsOf(part.name)
    .flatMap(({ action }) =>
      action.together
        ? action.targets.flatMap(({ owner }) =>
            owner.text === part.name ? [] : [said(owner.text, told`goes on and off together with ${part.name}`)],
          )
        : [],
    );

/** What was built into another part comes off in it. */
const builtInto: Rule = (part, build) =>
  build.mates(part.name).flatMap((mate) => {
    if (!isLater(build, mate, part.name) || build.part(mate) === undefined) return [];
    if (isA(mate, 'head') && isOnTopOfHead(part.name)) return [];
    return [known(mate, isA(mate, 'rod') ? told`${part.name} comes out on it` : told`carries ${part.name}`)];
  });

function moves(part: Part, build: Build): ReadonlySet<string> {
  return new Set([part.name, ...build.inside(part.name)]);
}

/** A chain or belt round its wheel, or round the wheel of a shaft that moves with it. */
const roundIt: Rule = (part, build) => {
  const moving = moves(part, build);
  return build.view.drives.flatMap((drive) =>
    drive.wraps.flatMap((wrap) => {
      if (wrap.part === part.name) return [];
      const wheel = wrap.wheels.find((each) => moving.has(each.part) || moving.has(shaftOf(build.view, each.part)));
      return wheel === undefined ? [] : [known(wrap.part, told`runs round ${wheel.part}`)];
    }),
  );
};

/** The shafts that a part stands round, or that a wheel turns with. */
function shaftsThrough(part: Part, build: Build): ReadonlySet<string> {
  const shafts = new Set<string>();
  if (part.fixedTo !== undefined) shafts.add(shaftOf(build.view, part.name));
  const sealed = build.view.parts.filter(
    ({ name }) => isA(name, 'seal') && (name === part.name || build.mates(name).includes(part.name)),
  );
  for (const { name } of sealed) {
    if (/cam/i.test(name)) for (const each of build.view.parts) if (isA(each.name, 'camshaft')) shafts.add(each.name);
    if (isA(name, 'crank-seal'))
      for (const each of build.view.parts) if (isA(each.name, 'crankshaft')) shafts.add(each.name);
  }
  for (const { name, kind } of coveredBy(part, build.view)) {
    const wheel = kind === 'part' ? build.part(name) : undefined;
    if (wheel?.fixedTo !== undefined) shafts.add(shaftOf(build.view, name));
  }
  return shafts;
}

/** The plate behind the pulleys of the camshafts. */
const behindPulleys: Rule = (part, build) =>
  isA(part, 'backplate')
    ? build.view.parts.flatMap(({ name, fixedTo }) =>
        fixedTo !== undefined && isA(name, 'wheel') && isA(fixedTo, 'camshaft')
          ? [known(name, told`stands before it on ${fixedTo}`)]
          : [],
      )
    : [];

/** Pulleys, dampers and flywheels that stand outside it on the same end of a shaft. */
const outsideOnShaft: Rule = (part, build) => {
  const shafts = shaftsThrough(part, build);
  if (shafts.size === 0 || build.last(part.name) < 0) return [];
  // A shaft that lies in it goes along, with its wheels.
  const moving = new Set(build.inside(part.name));
  const isRear =
    isAtFlywheelEnd(part.name) ||
    build.view.parts.some(
      ({ name }) => isA(name, 'rear-seal') && isAtFlywheelEnd(name) && build.mates(name).includes(part.name),
    );
  return build.view.parts.flatMap((other) => {
    const { name, fixedTo } = other;
    if (other === part || fixedTo === undefined || !shafts.has(shaftOf(build.view, name))) return [];
    if (!isLater(build, name, part.name) || part.covers.some((cover) => cover.part === name)) return [];
    const shaft = shaftOf(build.view, name);
    if (moving.has(shaft)) return [];
    if (isA(shaft, 'crankshaft') && isAtFlywheelEnd(name) !== isRear) return [];
    // Wheels of one drive lie in one plane.
    const inOne = build.view.drives.some(
      (drive) => turningParts(drive).includes(name) && turningParts(drive).includes(part.name),
    );
    return inOne ? [] : [known(name, told`stands outside it on ${shaft}`)];
  });
};

/** Whether a seal of the crankshaft lies in a part: it went in on the bench, or when that was on. */
const hasCrankSeal = (build: Build, name: string): boolean =>
  build.inside(name).some((each) => isA(each, 'crank-seal')) ||
  build.view.parts.some((each) => isA(each, 'crank-seal') && build.mates(each.name).includes(name));

/** The shaft that a part closes in, seals or keeps in its bearings. */
const holdsShaft: Rule = (part, build) => {
  if (!isA(part.name, 'crankshaft') && !isA(part.name, 'camshaft')) return [];
  return build.view.parts.flatMap(({ name }) => {
    if (!isLater(build, name, part.name)) return [];
    if (closesOver(name, part.name) && (shareMate(build, name, part.name) || build.mates(part.name).includes(name)))
      return [known(name, told`closes over ${part.name}`)];
    if (isA(part.name, 'crankshaft') && isA(name, 'rod')) return [known(name, told`runs on ${part.name}`)];
    if (isA(name, 'cam-plate') && isA(part.name, 'camshaft') && shareMate(build, name, part.name))
      return [known(name, told`keeps ${part.name} in`)];
    const seals = isA(part.name, 'crankshaft') && hasCrankSeal(build, name);
    return seals && shareMate(build, name, part.name) ? [known(name, told`has a seal that runs on ${part.name}`)] : [];
  });
};

/** Lifters stand on the lobes, pushrods in the lifters and under the rockers, and through the head. */
const valveGear: Rule = (part, build) =>
  build.view.parts.flatMap(({ name }) => {
    if (isA(part.name, 'camshaft')) {
      if (isA(name, 'lifter') && isLater(build, name, part.name) && shareMate(build, name, part.name))
        return [known(name, told`stands on the lobes of ${part.name}`)];
      const inBlock = !build.mates(part.name).some((each) => isA(each, 'head'));
      return isA(name, 'pushrod') && inBlock
        ? [known(name, told`presses on the lobes of ${part.name} through its lifter`)]
        : [];
    }
    if (
      isA(part.name, 'lifter') &&
      isA(name, 'camshaft') &&
      isLater(build, name, part.name) &&
      shareMate(build, name, part.name)
    )
      return build.mates(name).some((each) => isA(each, 'head'))
        ? [known(name, told`runs over ${part.name}`)]
        : [
            {
              name,
              why: told`went in after ${part.name}, which may come out only to that side`,
              surety: 'guess' as const,
            },
          ];
    if (isA(part.name, 'pushrod') && isRockerGear(name)) return [known(name, told`holds ${part.name} down`)];
    return isA(part.name, 'head') && isA(name, 'pushrod') ? [known(name, told`stands through ${part.name}`)] : [];
  });

/** A saddle under its shaft. */
const underShaft: Rule = (part, build) =>
  isShell(part.name) || part.wall !== undefined
    ? build.view.parts.flatMap(({ name }) =>
        isA(name, 'crankshaft') && shareMate(build, name, part.name) && isLater(build, name, part.name)
          ? [known(name, told`lies over ${part.name}`)]
          : [],
      )
    : [];

/** What goes between two others by its name: tubes and dowels under a head, shims under a cap, lifters and thrust halves in a split case. */
const between: Rule = (part, build) => {
  const isOver = (name: string): boolean => {
    if (isA(part, 'pushrod-tube')) return isA(name, 'head');
    if (isA(part, 'dowel')) return isA(name, 'head') && shareMate(build, name, part.name);
    if (isA(part, 'cap-shim', 'rod-cap-shim')) return isA(name, 'cap') && shareMate(build, name, part.name);
    const inHalf = build
      .mates(part.name)
      .some((mate) => isA(mate, 'case-half') || build.mates(mate).some((each) => isA(each, 'case-half')));
    return inHalf && (isA(part.name, 'lifter') || isA(part, 'thrust')) && isA(name, 'case-half');
  };
  return build.view.parts.flatMap(({ name }) =>
    isOver(name) && isLater(build, name, part.name) ? [known(name, told`lies over ${part.name}`)] : [],
  );
};

/** Drives and parts that it would be turned by: it has to come out of mesh first. */
const drivenBy: Rule = (part, { view }) =>
  // A belt or chain comes off and leaves what it drives where it is.
  view.drives.some(({ wraps }) => wraps.some((wrap) => wrap.part === part.name))
    ? []
    : view.parts.flatMap((each) =>
        each.drivenBy?.text === part.name ? [said(each.name, told`is driven by ${part.name}`)] : [],
      );

/** What closes the top of a bore. */
function overBore(bore: Part, build: Build): readonly InTheWay[] {
  return build.view.parts.flatMap((each) => {
    const covered = coveredBy(each, build.view).some(
      ({ name, feature }) => name === bore.name && feature !== undefined && /bore/i.test(feature),
    );
    if (covered) return [said(each.name, told`covers ${bore.name}.bore`)];
    return isA(each.name, 'head') ? [known(each.name, told`closes the bore at the top`)] : [];
  });
}

/** Rod and piston are one in the bore: their cap comes off below, and they come out on top, or the barrel comes off over them. */
const throughBore: Rule = (part, build) => {
  const bore = boreOf(build);
  if (bore === undefined) return [];
  if (part === bore && build.last(bore.name) >= 0) {
    // A liner or barrel over pistons that went in after it.
    return build.view.parts.flatMap((each) => {
      if (!isA(each.name, 'piston') || !comesOutOnTop(each.name, bore, build)) return [];
      const rod = rodOf(each, build);
      return rod === undefined || !isLater(build, rod.name, bore.name)
        ? []
        : [known(rod.name, told`its piston stands in ${bore.name}`)];
    });
  }
  const pistons = isA(part.name, 'piston') ? [part] : isA(part.name, 'rod') ? pistonsOf(part, build) : [];
  return pistons.flatMap((piston) => {
    const rod = rodOf(piston, build);
    const caps = rod === undefined ? [] : capsOf(rod, build);
    const last = rod !== undefined && isLater(build, rod.name, piston.name) ? rod : piston;
    if (!comesOutOnTop(last.name, bore, build)) {
      const over = build.last(bore.name) >= 0 ? [known(bore.name, told`is over ${piston.name}`)] : [];
      return part === piston ? over : caps;
    }
    const out = piston.outThrough ?? part.outThrough;
    const elsewhere = out !== undefined && !(out.owner.text === bore.name && /bore/i.test(out.feature?.text ?? 'bore'));
    const carried = part === piston && rod !== undefined ? [known(rod.name, told`${piston.name} comes out on it`)] : [];
    return [...(elsewhere ? [] : overBore(bore, build)), ...caps, ...carried];
  });
};

function capsOf(rod: Part, build: Build): readonly InTheWay[] {
  return build.view.parts.flatMap(({ name }) => {
    const isCapOf =
      isA(name, 'cap') &&
      (build.mates(name).includes(rod.name) ||
        build.view.fasteners.some(
          (fastener) => fastener.each === rod.name && fastener.clamps.some((clamp) => clamp.part === name),
        ));
    return isCapOf ? [known(name, told`closes ${rod.name} on the crankshaft`)] : [];
  });
}

/** The way out that the spec names: whatever covers it. */
const namedWay: Rule = (part, { view }) => {
  const out = part.outThrough;
  if (out === undefined) return [];
  return view.parts.flatMap((cover) =>
    coveredBy(cover, view).some(
      ({ name, feature }) => name === out.owner.text && (feature === undefined || feature === out.feature?.text),
    ) && cover !== part
      ? [
          said(
            cover.name,
            told`covers ${out.owner.text}${out.feature === undefined ? '' : `.${out.feature.text}`}, which ${part.name} comes out through`,
          ),
        ]
      : [],
  );
};

/** The sump is under the caps, and what hangs in it. */
const overSump: Rule = (part, build) =>
  (isA(part.name, 'cap') && !isA(part, 'cam-cap')) || isA(part, 'pickup')
    ? build.view.parts.flatMap(({ name }) =>
        isA(name, 'sump') && isLater(build, name, part.name)
          ? [known(name, told`closes the crankcase below ${part.name}`)]
          : [],
      )
    : [];

/** What hides a mark by which a drive of this part is proved when it goes back. */
const hidesMark: Rule = (part, build) =>
  build.view.drives.flatMap((drive) => {
    const parts = turningParts(drive);
    if (!parts.includes(part.name) && !drive.tensioners.includes(part.name)) return [];
    return build.view.parts.flatMap((cover) => {
      if (parts.includes(cover.name) || build.last(cover.name) < 0) return [];
      const hides = coveredBy(cover, build.view).some(({ name, feature }) => {
        const wheel = parts.includes(name) ? build.part(name) : undefined;
        return wheel !== undefined && (feature === undefined ? wheel.marks.size > 0 : wheel.marks.has(feature));
      });
      return hides ? [said(cover.name, told`hides a mark of ${drive.name}`)] : [];
    });
  });

const RULES: readonly Rule[] = [
  covers,
  namedWay,
  clampedOver,
  namedAfter,
  underWheel,
  drivenBy,
  together,
  holdsShaft,
  throughBore,
  valveGear,
  roundIt,
  turnsWith,
  outsideOnShaft,
  behindPulleys,
  underShaft,
  between,
  builtInto,
  overSump,
  hidesMark,
  sitsOn,
];

/** Whether a part says that it need not come off for another. */
function isClear(other: Part, part: Part, build: Build): boolean {
  return other.clearOf.some(({ text }) => {
    const thing = build.view.things.get(text);
    return text === part.name || (thing?.kind === 'drive' && isOfDrive(thing, part));
  });
}

function isOfDrive(drive: Drive, part: Part): boolean {
  return partsOfDrive(drive).includes(part.name);
}

/** What has to come off before a part can, each once, with the surest reason. */
export function inTheWay(part: Part, build: Build): readonly InTheWay[] {
  const found = new Map<string, InTheWay>();
  for (const rule of RULES)
    for (const each of rule(part, build)) {
      const other = build.part(each.name);
      if (other === undefined || other === part || found.has(each.name)) continue;
      if (each.surety !== 'said' && isClear(other, part, build)) continue;
      found.set(each.name, each);
    }
  return [...found.values()];
}

/** Fitted after it, in the same step or onto the same part, where nothing says whether they are in the way. */
export function mayBeInTheWay(part: Part, build: Build, isOff: (name: string) => boolean): readonly Part[] {
  const own = build.fitsOf(part.name);
  const names = build.fits.flatMap((fit) => {
    const near = own.some(
      (each) =>
        each.order < fit.order &&
        (each.step === fit.step ||
          (each.sequence === fit.sequence && each.mate !== undefined && each.mate === fit.mate)),
    );
    return near && !isOff(fit.name) && !isGasket(fit.name) ? [fit.name] : [];
  });
  return [...new Set(names)].flatMap((name) => {
    const other = build.part(name);
    return other === undefined || other === part || isClear(other, part, build) ? [] : [other];
  });
}
