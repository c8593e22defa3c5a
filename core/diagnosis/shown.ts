import type { Evidence, EvidenceItem } from './evidence.ts';
import type { Sign, SignTable } from './signs.ts';
import type { SuspectKey } from './suspects.ts';
import { FEATURE_KEYS, type FeatureKey } from './types.ts';

/** A suspect with what speaks for it; the weight is ln of the likelihood ratio. */
interface Spoken {
  readonly key: SuspectKey;
  readonly for: readonly { readonly item: EvidenceItem; readonly weight: number }[];
}

type ResidualItem = EvidenceItem & { kind: 'residual' };

/** From this weight on (ln of the likelihood ratio) a finding, a check or a like unit shows a fault. */
const SHOWS = 1;

/**
 * Whether a fault may be named in heating, where the general rules are so wide that several small
 * leanings add up to a suspect that nothing shows: one of what it is made of ('++', '--') must stand
 * beyond its whole width, or be known from a reading of this unit or from its maker, or something other
 * than residuals (a difference to a like unit, a finding, a check) must speak for it.
 */
export function isShown(suspect: Spoken, pieces: readonly Evidence[], table: SignTable): boolean {
  if (suspect.for.some(({ item, weight }) => item.kind !== 'residual' && weight > SHOWS)) {
    return true;
  }
  const residuals = residualsBy(pieces);
  if (suspect.key === 'lowCharge' && isShort(residuals)) return true;
  return table[suspect.key].some((row) => {
    const made = FEATURE_KEYS.filter((key) => side(row.signs[key]) !== 0 && residuals.has(key));
    return made.every((key) => {
      const item = residuals.get(key);
      if (item === undefined || item.source !== 'rule') return true;
      return item.residual * side(row.signs[key]) > item.u;
    });
  });
}

/** Superheat up and subcooling down by so much together, each as a share of its whole width, show a shortage. */
const SHORT = 1.6;

/**
 * Whether superheat is up and subcooling down together: by the wide rules of heating neither may stand beyond
 * its width by itself, but a coil that is starved with its liquid backed up has the obstacle before it, and
 * one that is starved with none has too little refrigerant.
 */
function isShort(residuals: ReadonlyMap<FeatureKey, ResidualItem>): boolean {
  const share = (key: FeatureKey): number => {
    const item = residuals.get(key);
    return item === undefined ? 0 : item.residual / item.u;
  };
  const [up, down] = [share('superheat'), -share('subcooling')];
  return up > LEANS && down > LEANS && up + down > SHORT;
}

/** A leak inside the reversing valve moves these by less than the general rules are wide. */
const LEFT_ALONE: readonly FeatureKey[] = ['evaporating', 'condensing', 'subcooling'];
/** ... and makes these go the other way, or hardly move: short of air indoors or out they do not. */
const NOT_LOWER = 'evaporating';
const NOT_HIGHER = 'airChange';
/** Leaning so far, as a share of its whole width, superheat or the machine's heat asks for the touch. */
const LEANS = 0.4;

/**
 * Whether the gas at the suction or the discharge is warm while both coils and the liquid look as they
 * should by the general rules: hot gas that crosses the reversing valve does that, and so does much
 * else, but two temperatures across the valve tell.
 */
export function reversingValveInDoubt(pieces: readonly Evidence[]): boolean {
  const residuals = residualsBy(pieces);
  const within = LEFT_ALONE.every((key) => {
    const item = residuals.get(key);
    return item === undefined || (item.source === 'rule' && Math.abs(item.residual) <= item.u);
  });
  const leaning = (key: FeatureKey, way: 1 | -1): boolean => {
    const item = residuals.get(key);
    return item !== undefined && way * item.residual > LEANS * item.u;
  };
  return (
    within &&
    !leaning(NOT_LOWER, -1) &&
    !leaning(NOT_HIGHER, 1) &&
    (leaning('superheat', 1) || leaning('compressorHeat', 1))
  );
}

function residualsBy(pieces: readonly Evidence[]): ReadonlyMap<FeatureKey, ResidualItem> {
  return new Map(
    pieces.flatMap(({ item }) => (item.kind === 'residual' ? [[item.feature, item] as const] : [])),
  );
}

/** The side of a sign a fault is made of: 1, -1, or 0 for what it only brings with it. */
function side(sign: Sign): -1 | 0 | 1 {
  return sign === '++' ? 1 : sign === '--' ? -1 : 0;
}
