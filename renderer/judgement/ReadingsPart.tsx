import { KILOGRAM_PER_POUND } from '../../core/units/mass.ts';
import { WATT_PER_BTUH } from '../../core/units/power.ts';
import type { ReactNode } from 'react';
import type { Mode } from '../../core/circuit/types.ts';
import type { Judgement } from '../../core/checks/running.ts';
import { FIGURE_KEYS, figureTold } from '../../core/circuit/figures.ts';
import { freshChannel } from '../../core/diagnosis/conditions.ts';
import { channelRow } from '../../core/stream/channels.ts';
import type { SnapshotContent } from '../../core/engine-types.ts';
import type { Uncertain } from '../../core/diagnosis/types.ts';
import { refusalText, targetText, verdictText } from '../../core/diagnosis/words.ts';
import { unbroken } from '../app/unbroken.ts';
import { VerdictOdds } from './Odds.tsx';
import {
  differenceNumber,
  differenceText,
  figureText,
  fixed,
  temperatureText,
  type UnitSystem,
} from '../app/format.ts';

interface Props {
  readonly judgement: Judgement;
  readonly content: SnapshotContent;
  readonly mode: Mode;
  readonly system: UnitSystem;
  /** Whether the unit stands: then nothing of it is held against the targets of running. */
  readonly off: boolean;
}

const VERDICT_WORD = {
  within: 'within',
  above: 'above',
  below: 'below',
  undecided: 'undecided',
} as const;

/** What the answer rests on: what stands in the way, the verdicts with their odds, the figures. */
export function ReadingsPart(props: Props): ReactNode {
  const { judgement, system } = props;
  if (props.off) return <FigureTable {...props} />;
  return (
    <>
      {judgement.refusals.length > 0 && (
        <section aria-label="What stands in the way">
          <h3>What stands in the way</h3>
          <ul className="barriers">
            {judgement.refusals.map((refusal) => (
              <li key={refusal.code} data-reach={refusal.blocks}>
                {unbroken(refusalText(refusal, system))}
              </li>
            ))}
          </ul>
        </section>
      )}
      <section aria-label="Verdicts">
        <h3>Against the targets</h3>
        {judgement.verdicts.length === 0 && <p className="muted">Nothing is judged now.</p>}
        <ul className="verdicts">
          {judgement.verdicts.map((row) => (
            <li key={row.quantity} data-verdict={row.verdict}>
              <strong>{VERDICT_WORD[row.verdict]}</strong>
              <span>
                {unbroken(verdictText(row, system))}
                <VerdictOdds probability={row.probability} />
                <small>{unbroken(targetText(row.target, system))}</small>
              </span>
            </li>
          ))}
        </ul>
      </section>
      <FigureTable {...props} />
    </>
  );
}

/** Every figure with its uncertainty and what it is, in one line. */
function FigureTable({ judgement, content, mode, system, off }: Props): ReactNode {
  const rows = FIGURE_KEYS.flatMap((key) => {
    const reading = content.figures[key];
    if (reading === undefined) return [];
    const { label, explain } = figureTold(key, mode, off);
    return [{ key, label, explain, text: figureText(key, reading, mode, system) }];
  });
  const others = off ? surroundingRows(content, system) : airRows(judgement, system);
  return (
    <section aria-label="Figures">
      <h3>Figures</h3>
      <table className="figures">
        <tbody>
          {[...rows, ...others].map((row) => (
            <tr key={row.key}>
              <th scope="row">{row.label}</th>
              <td className="number">{row.text}</td>
              <td>{row.explain}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** What stands around a circuit at rest, which its saturation is held against. */
const SURROUNDINGS = [
  ['outdoorAirTemp', 'Around the outdoor coil.'],
  ['returnAirTemp', 'Around the indoor coil.'],
] as const;

function surroundingRows(content: SnapshotContent, system: UnitSystem) {
  return SURROUNDINGS.flatMap(([key, explain]) => {
    const reading = freshChannel(content, key);
    if (reading === null) return [];
    return [
      {
        key,
        label: channelRow(key).label,
        text: `${temperatureText(reading.value, system)} ± ${halfText(reading.u, system)}`,
        explain,
      },
    ];
  });
}

/** The half-width of a difference beside a value that has the unit. */
function halfText(u: number, system: UnitSystem): string {
  return fixed(differenceNumber(u, system), 1);
}

function airRows(judgement: Judgement, system: UnitSystem) {
  const { returnWetBulb, splitOverTarget, capacity } = judgement.air;
  const rows: { key: string; label: string; text: string; explain: string }[] = [];
  if (returnWetBulb !== null) {
    rows.push({
      key: 'returnWetBulb',
      label: 'Return wet bulb',
      text: `${temperatureText(returnWetBulb.value, system)} ± ${halfText(returnWetBulb.u, system)}`,
      explain: 'Measured, or from the humidity at the pressure of the site.',
    });
  }
  if (splitOverTarget !== null) {
    rows.push({
      key: 'split',
      label: 'Air drop against its target',
      text: `${differenceText(splitOverTarget.value, system)} ± ${halfText(splitOverTarget.u, system)}`,
      explain: 'Above: the air is short. Below: the capacity is.',
    });
  }
  if (capacity !== null) {
    rows.push({
      key: 'sensible',
      label: 'Sensible capacity',
      text: powerText(capacity.sensible, system),
      explain: 'Heat that cools the air without drying it.',
    });
    if (capacity.total !== null) {
      rows.push({
        key: 'total',
        label: 'Total capacity',
        text: powerText(capacity.total, system),
        explain: 'Heat taken from the air, drying included.',
      });
    }
  }
  if (judgement.refrigerantSide !== null) {
    rows.push({
      key: 'refrigerantFlow',
      label: 'Refrigerant flow',
      text: flowText(judgement.refrigerantSide.massFlow, system),
      explain: 'What a sound compressor of this displacement moves at these pressures.',
    });
    rows.push({
      key: 'refrigerantCapacity',
      label: 'Capacity, refrigerant side',
      text: powerText(judgement.refrigerantSide.capacity, system),
      explain:
        'Heat taken up by that flow between liquid and suction line, pipe outdoors included.',
    });
  }
  if (judgement.virtualCharge?.ok === true) {
    const { deviation } = judgement.virtualCharge.value;
    rows.push({
      key: 'virtualCharge',
      label: 'Charge estimate',
      text: `${fixed(100 * deviation.value, 0)} % ± ${fixed(100 * deviation.u, 0)} %`,
      explain:
        'From superheat and subcooling (Li & Braun 2009, untuned): a hint, never a weight to add; not for units with an accumulator.',
    });
  }
  return rows;
}

/** A mass flow in kg/s, as the trade says it: by the hour in the US, by the second elsewhere. */
function flowText(flow: Uncertain, system: UnitSystem): string {
  const [factor, unit] = system === 'us' ? [KILOGRAM_PER_POUND / 3600, 'lb/h'] : [0.001, 'g/s'];
  const decimals = system === 'us' ? 0 : 1;
  return `${fixed(flow.value / factor, decimals)} ± ${fixed(flow.u / factor, decimals)} ${unit}`;
}

function powerText(power: Uncertain, system: UnitSystem): string {
  const [factor, unit] = system === 'us' ? [WATT_PER_BTUH, 'Btu/h'] : [1000, 'kW'];
  const decimals = system === 'us' ? -2 : 1;
  const show = (x: number): string =>
    decimals < 0 ? String(Math.round(x / factor / 100) * 100) : fixed(x / factor, decimals);
  return `${show(power.value)} ± ${show(power.u)} ${unit}`;
}
