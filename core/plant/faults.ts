import type { FaultKind, FaultSpec } from './scenario.ts';
import { FAULT_KINDS } from './scenario.ts';

/** Severity of every fault at one time, 0..1. */
export type FaultLevels = Record<FaultKind, number>;

/** No fault at all. */
export function healthy(): FaultLevels {
  return Object.fromEntries(FAULT_KINDS.map((k) => [k, 0])) as FaultLevels;
}

/** Severity of a fault at time t: grows over its ramp, ends at once. */
export function faultSeverity(f: FaultSpec, t: number): number {
  if (t < f.from_s || (f.until_s !== undefined && t >= f.until_s)) return 0;
  const grown = f.ramp_s > 0 ? Math.min(1, (t - f.from_s) / f.ramp_s) : 1;
  return f.severity * grown;
}

/** Fills the levels for time t; faults of one kind do not add up, the worst counts. */
export function faultsAt(faults: readonly FaultSpec[], t: number, out: FaultLevels): void {
  for (const k of FAULT_KINDS) out[k] = 0;
  for (const f of faults) out[f.kind] = Math.max(out[f.kind], faultSeverity(f, t));
}

/** Share of the charge that is missing (negative) or too much at full severity. */
export const CHARGE_AT_FULL = { lowCharge: -0.45, overcharge: 0.4 } as const;
/** Foreign gas at full severity, mol per kg of charge. */
export const GAS_AT_FULL = 0.15;
