import type { EngineConfig } from '../engine-types.ts';
import { propagate } from '../circuit/uncertainty.ts';
import { refrigerant } from '../refrigerant/refrigerants.ts';
import type { Conditions } from './conditions.ts';
import { MAKERS_KEYS, type MakersData } from './maker.ts';
import type { FeatureKey, Uncertain } from './types.ts';

/** The conditions the maker's values hold at; null where they hold now. */
export function makersConditions(data: MakersData, now: Conditions): Conditions | null {
  if (data.at === null || data.at === undefined) return null;
  const exact = (value: number | null): Uncertain | null =>
    value === null ? null : { value, u: 0 };
  const { outdoorAir, returnAir, returnWetBulb } = data.at;
  return {
    // What a chart does not ask for, it does not depend on: it holds at the present value.
    outdoor: exact(outdoorAir) ?? now.outdoor,
    returnAir: exact(returnAir) ?? now.returnAir,
    returnWetBulb: exact(returnWetBulb) ?? (returnAir === null ? now.returnWetBulb : null),
    supplyAir: null,
    airRefused: null,
    atmosphere: now.atmosphere,
  };
}

/**
 * The maker's values as features: a temperature typed in stands before the pressure of the same
 * side, which is turned into saturation (dew on the low side, bubble on the high side). A pressure
 * outside the refrigerant's curves gives none.
 */
export function makersFeatures(
  data: MakersData,
  config: EngineConfig,
): Partial<Record<FeatureKey, Uncertain>> {
  const { curves } = refrigerant(config.refrigerant);
  const features: Partial<Record<FeatureKey, Uncertain>> = {};
  for (const key of MAKERS_KEYS) {
    const typed = data[key];
    if (typed === undefined) continue;
    if (key !== 'suctionPressure' && key !== 'liquidPressure') {
      features[key] = typed;
      continue;
    }
    const low = key === 'suctionPressure';
    const f = ([p = NaN]: readonly number[]) => (low ? curves.tDew(p) : curves.tBubble(p));
    const value = f([typed.value]);
    const u = 2 * propagate(f, [{ value: typed.value, u: typed.u / 2 }]);
    if (Number.isFinite(value) && Number.isFinite(u))
      features[low ? 'evaporating' : 'condensing'] = { value, u };
  }
  return features;
}
