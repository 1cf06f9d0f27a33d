// What parts are by the names that the trade gives them, where a spec does not say: common practice, no source.
const CAP = /(^|-)cap$/i;
/** Halves of a case that is split along the crankshaft. */
const HALF =
  /^((left|right|upper|lower|top|bottom|front|rear)-(crank)?case(-half)?|(crank)?case-(left|right|upper|lower|top|bottom|front|rear))$/i;
const AT_THE_FLYWHEEL = /fly-?wheel|flex-?plate|drive-?plate|clutch|spigot|pilot|(^|-)rear(-|$)/i;

export const isHalfOfCase = (name: string): boolean => HALF.test(name);
export const isCrankshaft = (name: string): boolean => /(^|-)crankshaft$/i.test(name);
export const isCamshaft = (name: string): boolean => /(^|-)camshaft$/i.test(name);
export const isHead = (name: string): boolean => /(^|-)(cylinder-)?head$/i.test(name);
export const isRod = (name: string): boolean => /(^|-)(con)?rod$/i.test(name) && !/push|dip/i.test(name);
export const isPiston = (name: string): boolean => /(^|-)piston$/i.test(name);
export const isRing = (name: string): boolean => /(^|-)ring$/i.test(name);
export const isPistonPin = (name: string): boolean => /(^|-)(piston|gudgeon|wrist)-pin$/i.test(name);
export const isLifter = (name: string): boolean => /(^|-)(lifter|tappet|cam-follower|follower|bucket)$/i.test(name);
export const isPushrod = (name: string): boolean => /(^|-)pushrod$/i.test(name);
export const isRockerGear = (name: string): boolean =>
  /(^|-)rocker(-(shaft|support|pedestal|stand|arm|assembly|gear))?$/i.test(name);
export const isSump = (name: string): boolean => /(^|-)(sump|oil-?pan)$/i.test(name);
export const isSeal = (name: string): boolean => /(^|-)(oil-)?seal$/i.test(name);
/** A seal that the crankshaft runs in. */
export const isCrankSeal = (name: string): boolean =>
  /^((front|rear|main|crank(shaft)?|timing-cover|gear-cover|nose|flywheel|oil)-)*(oil-)?seal$/i.test(name);
export const isGasket = (name: string): boolean => /gasket|washer$|(^|-)(o-ring|seal|joint)$/i.test(name);
export const isShell = (name: string): boolean => /(^|-)(shell|bearing|half-bearing)$|(^|-)thrust(-|$)/i.test(name);
export const isCap = (name: string): boolean => CAP.test(name) && !/valve|rocker|filler|oil-cap/i.test(name);
/** What is got at while the head that it was built into stays on. */
export const isOnTopOfHead = (name: string): boolean =>
  isCamshaft(name) ||
  isRockerGear(name) ||
  /(^|-)(bucket|cam-?(shaft-)?cap|cam-seal|injector|glow-plug|spark-plug|stud|sensor)$/i.test(name);
export const isAtFlywheelEnd = (name: string): boolean => AT_THE_FLYWHEEL.test(name);
/** Taken off the battery side before work on the engine begins. */
export const isBatteryLead = (name: string): boolean =>
  /(^|-)(battery(-lead|-cable)?|(earth|ground)-(strap|lead|cable))$/i.test(name);
export const isPlugLead = (name: string): boolean => /(^|-)(ignition|plug|ht|spark)-(lead|cable|wire)s?$/i.test(name);
/** A plate that keeps a camshaft from moving along. */
export const isCamPlate = (name: string): boolean =>
  /(^|-)cam(shaft)?-(thrust-|retaining-)?(plate|retainer)$/i.test(name);

/** Whether a cap or half of the case closes over the crankshaft, or over a camshaft. */
export function closesOver(name: string, shaft: string): boolean {
  if (HALF.test(name)) return isCrankshaft(shaft);
  if (!isCap(name)) return false;
  return /cam/i.test(name) ? isCamshaft(shaft) : isCrankshaft(shaft) && !/rod|big-end/i.test(name);
}

/** What has oil behind it, so that it runs out when it comes off. */
export const holdsOil = (name: string): boolean =>
  isSump(name) ||
  /(^|-)((timing|gear|front|chain)-(cover|case)|rear-(seal-carrier|housing|cover)|oil-(pump|filter|cooler|pickup)|front-housing|(crank)?case|(left|right|upper|lower)-case)$/i.test(
    name,
  );
/** What has coolant behind it. */
export const holdsCoolant = (name: string): boolean =>
  isHead(name) ||
  /(^|-)((?<!(raw|sea)-)water-[a-z-]+|thermostat(-[a-z]+)?|coolant-[a-z-]+|radiator(-[a-z]+)?|(heater-)?hose|liner|wet-liner|core-plug|heat-exchanger|exchanger|head-gasket)$/i.test(
    name,
  );
