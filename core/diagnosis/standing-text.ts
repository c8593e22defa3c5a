import { assertNever } from '../result.ts';
import type { Equalising, Standing, StandingRefusal, StandingWait } from '../checks/standing.ts';
import {
  minutesText,
  percentText,
  pressureDifferenceText,
  pressureText,
  type UnitStyle,
} from './format.ts';

/** The standing check in lines: how far equalising is, and what the pressure says. */
export function standingText(result: Standing, atmosphere: number, style: UnitStyle): string[] {
  const lines = [equalisingText(result.equalising, style)];
  const { coldest, warmest } = result.saturation;
  const show = (p: number): string => pressureText(p, atmosphere, style);
  const band = `saturation is ${show(coldest.value)} at the coldest and ${show(warmest.value)} at the warmest place measured`;
  if (result.verdict === null || result.probability === null) {
    return [...lines, `Not judged yet${waitText(result.wait, style)}; ${band}.`];
  }
  const here = `Standing at ${show(result.pressure.value)}; ${band}.`;
  return [...lines, here, VERDICT[result.verdict](result.probability)];
}

const VERDICT: Readonly<
  Record<NonNullable<Standing['verdict']>, (p: NonNullable<Standing['probability']>) => string>
> = {
  agrees: (p) =>
    `It agrees (${percentText(p.agrees)}): some liquid is there. It does not tell how much.`,
  below: (p) =>
    `It is below (${percentText(p.below)}): little or no liquid is left, a place colder than those measured holds it, or it is another refrigerant than chosen. Search for the leak before anything is added.`,
  above: (p) =>
    `It is above (${percentText(p.above)}): air or another gas in the circuit, a place warmer than those measured, or another refrigerant than chosen. Give everything time to take the temperature of its surroundings, out of the sun, before acting on it.`,
  undecided: (p) =>
    `The instruments cannot decide it (below ${percentText(p.below)}, agrees ${percentText(p.agrees)}, above ${percentText(p.above)}).`,
};

/** Over how long a drift is told, s. */
const DRIFT_OVER_S = 600;

/** What the verdict waits for, where the line on equalising does not tell it already. */
function waitText(wait: StandingWait | null, style: UnitStyle): string {
  if (wait === null || wait.code === 'notEqual') return '';
  if (wait.code === 'tooShort') return ': watched for too short a time to tell whether it drifts';
  const change = pressureDifferenceText(Math.abs(wait.rate) * DRIFT_OVER_S, style);
  const way = wait.rate > 0 ? 'rising' : 'falling';
  return `: still ${way} by ${change} in ${minutesText(DRIFT_OVER_S)}, wait until that is over`;
}

function equalisingText({ state, difference, timeLeft }: Equalising, style: UnitStyle): string {
  if (difference === null) {
    return state === 'equal'
      ? 'One pressure is measured; it has had time to become equal with the other.'
      : 'One pressure is measured: whether both are equal cannot be seen, so it is given 20 minutes from the stop.';
  }
  const apart = pressureDifferenceText(Math.abs(difference.value), style);
  switch (state) {
    case 'equal':
      return 'Both pressures are equal.';
    case 'equalising':
      return timeLeft === null
        ? `The two pressures are ${apart} apart: wait until they are equal and at rest. A compressor that is heard to run like this does not pump.`
        : `The two pressures are ${apart} apart: about ${minutesText(timeLeft)} to go at this rate.`;
    case 'stuckApart':
      return `They stay ${apart} apart: a closed valve holds them (a service valve, a solenoid, a check valve, an expansion valve that shuts tight), and there is no common pressure to judge. Open what may be opened, or give them longer.`;
    case 'reversed':
      return `The suction side reads ${apart} above the high side, which no stop leaves behind: the hoses, or the sensors assigned to them, are probably exchanged. Set that right first; if so, whether the unit runs cannot be told either.`;
    default:
      return assertNever(state);
  }
}

/** Why there is no standing check, and what to do. */
export function standingRefusalText(refusal: StandingRefusal, style: UnitStyle): string {
  switch (refusal.code) {
    case 'STILL_RUNNING':
      return 'The unit is running. Stop it for the standing check.';
    case 'NO_PRESSURE':
      return 'No pressure is measured. Connect a gauge.';
    case 'NO_SURROUNDINGS':
      return `${equalisingText(refusal.equalising, style)} Not judged: no temperature of the surroundings is measured. Measure outdoor and return air.`;
    case 'OUT_OF_RANGE':
      return 'The surroundings are outside the range of this refrigerant’s curves. Check the thermometers and the refrigerant chosen.';
    default:
      return assertNever(refusal);
  }
}
