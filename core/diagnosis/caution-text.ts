import type { ChargeAdvice } from '../checks/running.ts';
import type { CautionKey } from './checks-table.ts';

/** Cautions beside a step, each deferring to whom it must. The one place of their text. */
export const CAUTION_TEXT: Readonly<Record<CautionKey, string>> = {
  liveElectricity:
    'Live electrical work: qualified persons only, rated meter and protective equipment (NFPA 70E).',
  lockout:
    'Disconnect from all sources, lock and tag, discharge capacitors and prove the absence of voltage before reaching in (OSHA 29 CFR 1910.147 and 1910.333). A thermostat is no disconnect.',
  rotating: 'Keep hands and clothing away from fans and blowers; guards go back on before a start.',
  hotPipes:
    'The discharge line can be hotter than 200 °F (93 °C): it burns at a touch. In heating so does the large line to the indoor coil.',
  defrost:
    'In and after a defrost the outdoor fan starts by itself, and water, steam and ice come off the coil: hands out, mind the slippery ground, never chip ice off a coil.',
  refrigerantHandling:
    'Certified persons only; never vent, never mix; recovery cylinders in date and filled to 80 % at most (Clean Air Act section 608, 40 CFR 82).',
  frostbite: 'Liquid refrigerant freezes skin and eyes: gloves and goggles; it also displaces air.',
  flammable:
    'A flammable (A2L, A3) refrigerant needs an area checked with a detector and ventilated, no flame, spark or switch that arcs, tools, pump and recovery machine rated for it, and the equipment maker’s procedure (UL/IEC 60335-2-40).',
  runPumpedDown:
    'Only where the compressor’s maker allows a pump-down, and never with a leak on the low side: air drawn in and compressed with oil or a flammable refrigerant can explode. Never close the suction valve of a running compressor, never let it pull into a vacuum, and open the valve again.',
  pressureTest:
    'Pressure-test with dry nitrogen only, from a cylinder with a regulator and a relief valve, and never above the test pressure on the plate. Oxygen or compressed air can explode with oil. Braze only an emptied circuit, with nitrogen flowing through it.',
};

/** What stands beside a word about the charge that leads to work on the circuit. */
export function chargeCautions(advice: ChargeAdvice): string[] {
  if (advice.code === 'LIKELY_LOW') {
    return cautionsFor(['refrigerantHandling', 'flammable', 'frostbite', 'pressureTest']);
  }
  return advice.code === 'LIKELY_HIGH'
    ? cautionsFor(['refrigerantHandling', 'flammable', 'frostbite'])
    : [];
}

/** The texts of some cautions. */
export function cautionsFor(keys: readonly CautionKey[]): string[] {
  return keys.map((key) => CAUTION_TEXT[key]);
}
