import { differenceFromFahrenheit } from '../units/temperature.ts';
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
  | 'suctionAboveOutdoor'
  | 'dischargeBelowCondensing'
  | 'drierReversed'
  | 'supplyAboveReturn'
  | 'linesSwapped'
  | 'hosesSwapped';

/** How far beyond its uncertainty a reading must be before it is called impossible, K. */
const BEYOND_K = 0.6;

/**
 * Further beyond its uncertainty than this no circuit comes, K: more than the glide of any blend here, than
 * a drop of pressure along a line, or than a fan that stands still leaves between a coil and its air (our own
 * choice).
 */
const FAR_BEYOND_K = 7;

/** What the second law of thermodynamics forbids: heat that would have to flow from cold to warm. */
const BY_NATURE: readonly Impossible[] = [
  'suctionBelowEvaporating',
  'liquidAboveCondensing',
  'condensingBelowAir',
  'supplyBelowEvaporating',
  'dischargeBelowCondensing',
];

/** A contradiction, by how much, K, and whether no fault of a circuit at all could make it. */
export interface Contradiction {
  readonly what: Impossible;
  readonly by: number;
  readonly certain: boolean;
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
    const beyond = by - Math.hypot(a.u, b.u);
    if (beyond <= BEYOND_K) return;
    const exchanged = what === 'hosesSwapped';
    found.push({
      what,
      by,
      certain: exchanged || (BY_NATURE.includes(what) && beyond > FAR_BEYOND_K),
    });
  };
  const { superheat, subcooling, condensing, evaporating } = features;
  order('hosesSwapped', evaporating, condensing);
  // What is computed from exchanged pressures contradicts itself as well: it would only be noise.
  if (found.length > 0) return found;
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
  if (!cooling) {
    // A few kelvin are the valve's own metal between hot and cold gas.
    const { outdoor: air } = conditions;
    const most = air === null ? null : { value: air.value + VALVE_BODY_K, u: air.u };
    order('suctionAboveOutdoor', freshChannel(content, 'suctionLineTemp'), most);
    return found;
  }
  order('supplyBelowEvaporating', evaporating, supplyAir);
  const suction = freshChannel(content, 'suctionLineTemp');
  const swapped = swappedBy({ suction, liquid, evaporating, condensing, outdoor, returnAir });
  if (swapped === null) {
    order('liquidBelowOutdoor', outdoor, liquid);
    order('suctionAboveAir', suction, warmest(outdoor, returnAir));
  } else {
    found.unshift({ what: 'linesSwapped', by: swapped, certain: true });
  }
  order('supplyAboveReturn', supplyAir, returnAir);
  return found;
}

/**
 * What the suction gas gains in a tight reversing valve at most: 3 °F (the touch test of the trade,
 * common practice).
 */
const VALVE_BODY_K = differenceFromFahrenheit(3);

type Maybe = Uncertain | null | undefined;
const NONE: Uncertain = { value: 0, u: 0 };

/** What tells whether the two pipe clamps sit on each other's line, K. */
interface Lines {
  readonly suction: Maybe;
  readonly liquid: Maybe;
  readonly evaporating: Maybe;
  readonly condensing: Maybe;
  readonly outdoor: Maybe;
  readonly returnAir: Maybe;
}

/** Return air is taken to be no warmer than this where it is not measured, K (86 °F; our own choice). */
const WARMEST_HOUSE_K = 303.15;
/** Superheat beyond which the other way round makes no sense either, K (40 °F; our own choice). */
const MOST_SUPERHEAT_K = 22.2;

/**
 * By how much the suction line is hotter than the liquid line, in cooling, where neither can be what it
 * is said to be and each makes sense as the other: the suction line is above every air that could warm
 * it, the liquid line below the air that cools it. A liquid line that is throttled before its clamp is
 * cold as well, but leaves the suction line no warmer than the air. Null otherwise.
 */
function swappedBy(lines: Lines): number | null {
  const { suction, liquid, evaporating, condensing, outdoor, returnAir } = lines;
  if (!suction || !liquid || !evaporating || !condensing || !outdoor) return null;
  const air = warmest(outdoor, returnAir ?? { value: WARMEST_HOUSE_K, u: 0 }) ?? outdoor;
  const beyond = (a: Uncertain, b: Uncertain): boolean =>
    a.value - b.value - Math.hypot(a.u, b.u) > BEYOND_K;
  if (!beyond(suction, air) || !beyond(outdoor, liquid)) return null;
  const superheat = liquid.value - evaporating.value;
  const makesSense =
    !beyond(evaporating, liquid) && superheat < MOST_SUPERHEAT_K && !beyond(suction, condensing);
  return makesSense ? suction.value - liquid.value : null;
}

/** Suction gas takes heat from the house and along the line from outdoors: the warmer bounds it. */
function warmest(a: Uncertain | null, b: Uncertain | null): Uncertain | null {
  if (a === null || b === null) return null;
  return a.value > b.value ? a : b;
}

/** Probability of a contradiction under each suspect, our own estimates. */
const COMMON: Partial<BySuspect> = { sensorFault: 0.35, wrongRefrigerant: 0.3, cannotTell: 0.05 };
const OTHERWISE = 0.01;
/** What no fault of a circuit does. */
const NOWHERE = 5e-4;
/**
 * What else makes one: liquid throttled before the clamp is colder than the air; a unit that hardly
 * pumps may be passed by the fan's heat.
 */
const ALSO: Partial<Readonly<Record<Impossible, Partial<BySuspect>>>> = {
  linesSwapped: { sensorFault: 0.2, wrongRefrigerant: NOWHERE },
  hosesSwapped: { sensorFault: 0.2, wrongRefrigerant: NOWHERE },
  liquidBelowOutdoor: { liquidLineRestriction: 0.12, wrongRefrigerant: 0.01 },
  suctionAboveAir: { wrongRefrigerant: 0.01 },
  // Nothing before the compressor is warmer than the outdoor air but what leaks in.
  suctionAboveOutdoor: {
    reversingValveLeak: 0.35,
    compressorValveLeak: 0.02,
    sensorFault: 0.12,
    wrongRefrigerant: 0.01,
  },
  drierReversed: { wrongRefrigerant: 0.01 },
  supplyAboveReturn: { wrongRefrigerant: 0.01, compressorValveLeak: 0.05 },
};

/** How well each suspect explains a contradiction, or (null) that there is none. */
export function contradictionLikelihood(found: Contradiction | null): BySuspect {
  const otherwise = found?.certain === true ? NOWHERE : OTHERWISE;
  const p = (key: SuspectKey): number =>
    (found === null ? undefined : ALSO[found.what]?.[key]) ?? COMMON[key] ?? otherwise;
  return bySuspect((key) => (found === null ? 1 - p(key) : p(key)));
}
