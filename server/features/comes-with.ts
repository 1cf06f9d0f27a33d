// What comes off with what, by the names of the trade (see model/trade-names.ts): what is got at while a head stays on, what closes over a
// shaft, what has oil or coolant behind it. Common practice, no source.
import { isA } from '../model/trade-names.ts';

export const isGasket = (name: string): boolean => isA(name, 'gasket', 'washer', 'o-ring', 'seal');
export const isShell = (name: string): boolean => isA(name, 'shell', 'thrust');
export const isRockerGear = (name: string): boolean => isA(name, 'rocker', 'rocker-support');
/** What is got at while the head that it was built into stays on. */
export const isOnTopOfHead = (name: string): boolean =>
  isRockerGear(name) ||
  isA(name, 'camshaft', 'lifter', 'cam-cap', 'camshaft-seal', 'injector', 'glow-plug', 'spark-plug', 'stud', 'sensor');
export const isAtFlywheelEnd = (name: string): boolean =>
  isA(name, 'flywheel', 'clutch', 'rear-seal', 'rear-seal-carrier') || /spigot|pilot|(^|-)rear(-|$)/i.test(name);

/** Whether a cap or half of the case closes over the crankshaft, or over a camshaft. */
export function closesOver(name: string, shaft: string): boolean {
  if (isA(name, 'cam-cap')) return isA(shaft, 'camshaft');
  return isA(name, 'case-half', 'cap') && isA(shaft, 'crankshaft') && !isA(name, 'rod-cap');
}

/** What has oil behind it, so that it runs out when it comes off. */
export const holdsOil = (name: string): boolean =>
  isA(
    name,
    'sump',
    'timing-cover',
    'timing-case',
    'rear-seal-carrier',
    'case',
    'oil-pump',
    'oil-cooler',
    'oil-filter',
    'pickup',
  ) || /(^|-)rear-(housing|cover)$/i.test(name);
/** What has coolant behind it. */
export const holdsCoolant = (name: string): boolean =>
  isA(name, 'head', 'water-joint', 'core-plug', 'liner', 'exchanger') ||
  /(^|-)((?<!(raw|sea)-)water-[a-z-]+|thermostat-[a-z]+|coolant-[a-z-]+|radiator-[a-z]+|head-gasket)$/i.test(name);
