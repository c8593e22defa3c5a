import type { ChannelKey } from '../stream/channels.ts';

/** How much the wrong order must show before the question is asked, and for how long; our choice. */
const MARGIN_K = 3;
const MARGIN_PA = 50_000;
const SUSTAINED_S = 60;

/** What is looked at: the latest values in SI (absent where not measured) and what the unit does. */
export interface SwapInput {
  readonly t: number;
  readonly mode: 'cooling' | 'heating';
  readonly running: boolean;
  readonly values: Partial<Readonly<Record<ChannelKey, number>>>;
}

/** Two sensors that look exchanged. It is a question for a person; nothing is changed. */
export interface SwapQuestion {
  readonly code: 'CLAMPS_LOOK_SWAPPED' | 'HOSES_LOOK_SWAPPED' | 'AIR_PROBES_LOOK_SWAPPED';
  readonly channels: readonly [ChannelKey, ChannelKey];
  /** How far the first is above the second (K or Pa). */
  readonly excess: number;
}

/** Since when each wrong order has been seen. */
export type SwapMemory = Partial<Readonly<Record<SwapQuestion['code'], number>>>;

interface Rule {
  readonly code: SwapQuestion['code'];
  /** While running, the first should not be above the second. */
  readonly cold: ChannelKey;
  readonly warm: ChannelKey;
  readonly margin: number;
}

/**
 * In a running circuit the suction line is the colder and the suction pressure the lower, whichever
 * way the reversing valve stands, as long as the probes sit on the compressor's own lines. Supply
 * air is colder than return air while cooling and warmer while heating.
 */
function rulesFor(mode: SwapInput['mode']): readonly Rule[] {
  const cooling = mode === 'cooling';
  return [
    {
      code: 'CLAMPS_LOOK_SWAPPED',
      cold: 'suctionLineTemp',
      warm: 'liquidLineTemp',
      margin: MARGIN_K,
    },
    {
      code: 'HOSES_LOOK_SWAPPED',
      cold: 'suctionPressure',
      warm: 'liquidPressure',
      margin: MARGIN_PA,
    },
    {
      code: 'AIR_PROBES_LOOK_SWAPPED',
      cold: cooling ? 'supplyAirTemp' : 'returnAirTemp',
      warm: cooling ? 'returnAirTemp' : 'supplyAirTemp',
      margin: MARGIN_K,
    },
  ];
}

/**
 * The questions to ask now: a wrong order by more than 3 K (50 kPa) for 60 s in a running unit.
 * Never swaps anything: a suction line may truly be warm, with a starved coil on a hot day, and then
 * a silent swap would hide the fault.
 *
 * @param memory what the last call gave back; `{}` at first
 */
export function swapQuestions(
  input: SwapInput,
  memory: SwapMemory,
): { readonly questions: readonly SwapQuestion[]; readonly memory: SwapMemory } {
  const next: Partial<Record<SwapQuestion['code'], number>> = {};
  const questions: SwapQuestion[] = [];
  if (!input.running) return { questions, memory: next };
  for (const rule of rulesFor(input.mode)) {
    const cold = input.values[rule.cold];
    const warm = input.values[rule.warm];
    if (cold === undefined || warm === undefined || !(cold - warm > rule.margin)) continue;
    const since = memory[rule.code] ?? input.t;
    next[rule.code] = since;
    if (input.t - since >= SUSTAINED_S) {
      questions.push({ code: rule.code, channels: [rule.cold, rule.warm], excess: cold - warm });
    }
  }
  return { questions, memory: next };
}

/** A difference of the pressures, or a compressor current, from which a unit must be running. */
const RUNNING_PA = 300_000;
const RUNNING_A = 0.5;

/**
 * Whether a unit looks as if it ran, from the sensors alone: the two pressures stand apart (either
 * way round, since the hoses may be exchanged) or the compressor draws current. The limits are ours.
 */
export function looksRunning(values: SwapInput['values']): boolean {
  const { suctionPressure, liquidPressure, compressorCurrent } = values;
  if (compressorCurrent !== undefined) return compressorCurrent > RUNNING_A;
  if (suctionPressure === undefined || liquidPressure === undefined) return false;
  return Math.abs(liquidPressure - suctionPressure) > RUNNING_PA;
}
