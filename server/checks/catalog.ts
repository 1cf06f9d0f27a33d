import type { Check } from "./check.ts";
export const CHECKS: readonly Check[] = [];
