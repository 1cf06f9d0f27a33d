// The day and the time at this bench.
import { useEffect, useState } from 'preact/hooks';
import type { Moment } from '../bench/entries.ts';

const two = (number: number): string => String(number).padStart(2, '0');

function momentOf(date: Date): Moment {
  return {
    day: `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`,
    time: `${two(date.getHours())}:${two(date.getMinutes())}`,
  };
}

export function now(): Moment {
  return momentOf(new Date());
}

/** Milliseconds, anew each second while a clock runs. */
export function useTicking(isRunning: boolean): number {
  const [at, setAt] = useState(Date.now());
  useEffect(() => {
    if (!isRunning) return;
    setAt(Date.now());
    const timer = setInterval(() => setAt(Date.now()), 1000);
    return () => clearInterval(timer);
  }, [isRunning]);
  return at;
}

/** `1 h 05 min`, `4:09`. */
export function lengthText(seconds: number): string {
  const whole = Math.max(0, Math.ceil(seconds));
  if (whole >= 3600) return `${Math.floor(whole / 3600)} h ${two(Math.floor((whole % 3600) / 60))} min`;
  return `${Math.floor(whole / 60)}:${two(whole % 60)}`;
}

/** The id of an element, of what it is about. */
export function idOf(...parts: readonly string[]): string {
  return parts.join('.').replace(/\s/g, '_');
}
