import type { EngineConfig, SnapshotContent } from '../engine-types.ts';
import { freshChannel, type Conditions } from './conditions.ts';
import type { Features } from './features.ts';
import { bySuspect, type BySuspect, type SuspectKey } from './suspects.ts';
import type { Uncertain } from './types.ts';

/** Readings that no circuit makes: an instrument is wrong, swapped or on the wrong pipe. */
export type Impossible =
  | 'suctionBelowEvaporating'
  | 'liquidAboveCondensing'
  | 'condensingBelowAir'
  | 'supplyBelowEvaporating'
  | 'liquidBelowOutdoor'
  | 'suctionAboveAir'
  | 'dischargeBelowCondensing'
  | 'drierReversed'
  | 'supplyAboveReturn';

/** How far beyond its uncertainty a reading must be before it is called impossible, K. */
const BEYOND_K = 0.6;

/** A contradiction and by how much, K. */
export interface Contradiction {
  readonly what: Impossible;
  readonly by: number;
}

/** Readings that contradict each other beyond their uncertainty. */
export function contradictions(
  features: Features,
  conditions: Conditions,
  content: SnapshotContent,
  config: EngineConfig,
): Contradiction[] {
  const found: Contradiction[] = [];
  const cooling = config.mode === 'cooling';
  /** The first must not be above the second. */
  const order = (what: Impossible, a: Maybe, b: Maybe): void => {
    if (a === null || a === undefined || b === null || b === undefined) return;
    const by = a.value - b.value;
    if (by - Math.hypot(a.u, b.u) > BEYOND_K) found.push({ what, by });
  };
  const { superheat, subcooling, condensing, evaporating } = features;
  const { outdoor, returnAir, supplyAir } = conditions;
  const liquid = freshChannel(content, 'liquidLineTemp');
  order('suctionBelowEvaporating', NONE, superheat);
  order('liquidAboveCondensing', NONE, subcooling);
  order('condensingBelowAir', cooling ? outdoor : returnAir, condensing);
  order('dischargeBelowCondensing', condensing, freshChannel(content, 'dischargeLineTemp'));
  order(
    'drierReversed',
    freshChannel(content, 'drierOutletTemp'),
    freshChannel(content, 'drierInletTemp'),
  );
  if (!cooling) return found;
  order('supplyBelowEvaporating', evaporating, supplyAir);
  order('liquidBelowOutdoor', outdoor, liquid);
  order('suctionAboveAir', freshChannel(content, 'suctionLineTemp'), warmest(outdoor, returnAir));
  order('supplyAboveReturn', supplyAir, returnAir);
  return found;
}

type Maybe = Uncertain | null | undefined;
const NONE: Uncertain = { value: 0, u: 0 };

/** Suction gas takes heat from the house and along the line from outdoors: the warmer bounds it. */
function warmest(a: Uncertain | null, b: Uncertain | null): Uncertain | null {
  if (a === null || b === null) return null;
  return a.value > b.value ? a : b;
}

/** Probability of a contradiction under each suspect, our own estimates. */
const COMMON: Partial<BySuspect> = { sensorFault: 0.35, wrongRefrigerant: 0.3, cannotTell: 0.05 };
const OTHERWISE = 0.01;
/**
 * What else makes one: liquid throttled before the clamp is colder than the air; a unit that hardly
 * pumps may be passed by the fan's heat.
 */
const ALSO: Partial<Readonly<Record<Impossible, Partial<BySuspect>>>> = {
  liquidBelowOutdoor: { liquidLineRestriction: 0.12, wrongRefrigerant: 0.01 },
  suctionAboveAir: { wrongRefrigerant: 0.01 },
  drierReversed: { wrongRefrigerant: 0.01 },
  supplyAboveReturn: { wrongRefrigerant: 0.01, compressorValveLeak: 0.05 },
};

/** How well each suspect explains a contradiction, or (null) that there is none. */
export function contradictionLikelihood(what: Impossible | null): BySuspect {
  const p = (key: SuspectKey): number =>
    (what === null ? undefined : ALSO[what]?.[key]) ?? COMMON[key] ?? OTHERWISE;
  return bySuspect((key) => (what === null ? 1 - p(key) : p(key)));
}
