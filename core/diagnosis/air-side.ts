import { airCapacity, type AirCapacity, type MeasuredMoisture } from '../circuit/air.ts';
import type { Conditions } from './conditions.ts';
import { freshChannel } from './conditions.ts';
import type { JudgementInput, Uncertain, VerdictRow } from './types.ts';

/** Figures that need more than the circuit: air side, split against target, charge estimate. */
export interface AirFigures {
  readonly returnWetBulb: Uncertain | null;
  /** Air drop minus its target, K. */
  readonly splitOverTarget: Uncertain | null;
  /** W; null where the airflow was not measured or the air is out of range. */
  readonly capacity: AirCapacity | null;
}

/** The air-side figures of a snapshot. */
export function airFigures(
  input: JudgementInput,
  conditions: Conditions,
  split: VerdictRow | null,
): AirFigures {
  const target = split?.target.value ?? null;
  return {
    returnWetBulb: conditions.returnWetBulb,
    splitOverTarget:
      split === null || target === null
        ? null
        : { value: split.reading.value - target, u: split.u },
    capacity: capacityOf(input, conditions),
  };
}

function capacityOf(input: JudgementInput, conditions: Conditions): AirCapacity | null {
  const { returnAir, supplyAir } = conditions;
  if (input.airflow.kind !== 'measured' || returnAir === null || supplyAir === null) return null;
  const outcome = airCapacity({
    flow: input.airflow.flow,
    returnAir,
    supplyAir,
    returnMoisture: moisture(input, 'returnAirWetBulb', 'returnAirHumidity'),
    supplyMoisture: moisture(input, 'supplyAirWetBulb', null),
    atmosphere: conditions.atmosphere,
  });
  return outcome.ok ? outcome.value : null;
}

function moisture(
  input: JudgementInput,
  wetBulb: 'returnAirWetBulb' | 'supplyAirWetBulb',
  humidity: 'returnAirHumidity' | null,
): MeasuredMoisture | null {
  const wet = freshChannel(input.content, wetBulb);
  if (wet !== null) return { kind: 'wetBulb', reading: wet };
  const rh = humidity === null ? null : freshChannel(input.content, humidity);
  return rh === null ? null : { kind: 'humidity', reading: rh };
}
