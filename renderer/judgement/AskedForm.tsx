import { useId, type ReactNode } from 'react';
import {
  STANDARD_KEYS,
  SUPERHEAT_CHARTS,
  type ObservationKey,
} from '../../core/diagnosis/types.ts';
import { CHART_LABEL, STANDARD_LABEL } from '../../core/diagnosis/words.ts';
import { OBSERVATION_LABEL } from '../../core/diagnosis/evidence-text.ts';
import type { Answers } from '../../core/record/answers.ts';
import { M3_S_PER_CFM } from '../../core/units/flow.ts';
import { fieldText, typedNumber } from '../app/numbers.ts';
import { useUnits } from '../store/context.ts';
import type { Reference } from './references.ts';
import type { References } from './use-references.ts';

interface Props {
  readonly asked: Answers;
  readonly change: (part: Partial<Answers>) => void;
  readonly fixed: boolean;
  /** Id of their session where the readings were typed by a person. */
  readonly typed: string | null;
  readonly observations: readonly ObservationKey[];
  readonly references: References;
  /** The unit has a line of its maker's chart. */
  readonly chart: boolean;
}

/** What no sensor tells: airflow, whose tolerances, what is known of the unit. */
export function AskedForm(props: Props): ReactNode {
  const { asked, change, fixed, typed, observations } = props;
  return (
    <fieldset className="asked">
      <legend>What no sensor tells</legend>
      <Choice
        label="Airflow over the indoor coil"
        value={asked.airflow}
        options={[
          ['unknown', 'not known (the temperature split may tell)'],
          ['attested', 'filter, coil and blower looked at: right'],
          ['measured', 'measured'],
        ]}
        onChange={(value) => {
          const airflow = AIRFLOW.find((kind) => kind === value);
          if (airflow !== undefined) change({ airflow });
        }}
      />
      {asked.airflow === 'measured' && <FlowField flow={asked.flow_m3_s} change={change} />}
      <Choice
        label="Tolerances"
        value={asked.standard}
        options={STANDARD_KEYS.map((key) => [key, STANDARD_LABEL[key]])}
        onChange={(value) => {
          const standard = STANDARD_KEYS.find((key) => key === value);
          if (standard !== undefined) change({ standard });
        }}
      />
      {fixed && (
        <Choice
          label="Superheat chart"
          value={asked.chart}
          options={SUPERHEAT_CHARTS.map((key) => [key, CHART_LABEL[key]])}
          onChange={(value) => {
            const chart = SUPERHEAT_CHARTS.find((key) => key === value);
            if (chart !== undefined) change({ chart });
          }}
        />
      )}
      <Expected {...props} />
      {typed !== null && (
        <Tick
          label="The unit had run for 15 minutes and the readings stood still"
          checked={asked.stoodStill === typed}
          onChange={(stood) => change({ stoodStill: stood ? typed : null })}
        />
      )}
      <Tick
        label="Heat pump (it has a reversing valve)"
        checked={asked.heatPump}
        onChange={(heatPump) => change({ heatPump })}
      />
      <Tick
        label="The charge was weighed in and is right"
        checked={asked.chargeWeighed}
        onChange={(chargeWeighed) => change({ chargeWeighed })}
      />
      <p className="muted">
        {observations.length === 0
          ? 'Findings of the job count as well: none speaks of a cause yet.'
          : `From the findings of the job: ${observations.map((key) => OBSERVATION_LABEL[key]).join('; ')}.`}
      </p>
    </fieldset>
  );
}

/** What the readings are held against, best first, and the choice of it. */
function Expected(p: Pick<Props, 'asked' | 'change' | 'references' | 'chart'>): ReactNode {
  const { asked, change, references } = p;
  const known = (list: readonly Reference[], id: string | null): string =>
    list.some((reference) => reference.id === id) ? (id ?? '') : '';
  const options = (none: string, list: readonly Reference[]) => [
    ['', none] as const,
    ...list.map(({ id, text }) => [id, text] as const),
  ];
  return (
    <>
      <p className="muted">
        The readings are held against the first of these that is there: the unit’s own healthy
        visit, the maker’s chart ({p.chart ? 'typed in' : 'none typed in'}), the general rules of
        the trade. A like unit is compared as well: either of the two may be the faulty one.
      </p>
      <Choice
        label="This unit when it was healthy"
        value={known(references.own, asked.baseline)}
        options={options(
          references.own.length === 0 ? 'no reading at rest of another time' : 'not chosen',
          references.own,
        )}
        onChange={(id) => change({ baseline: id === '' ? null : id })}
      />
      <Choice
        label="A like unit under the same conditions"
        value={known(references.others, asked.twin)}
        options={options(
          references.others.length === 0 ? 'no reading of a like unit' : 'not chosen',
          references.others,
        )}
        onChange={(id) => change({ twin: id === '' ? null : id })}
      />
    </>
  );
}

const AIRFLOW = ['unknown', 'attested', 'measured'] as const;

/** The measured airflow, in the person's own unit; taken when they leave the field. */
function FlowField({ flow, change }: Pick<Props, 'change'> & { readonly flow: number | null }) {
  const id = useId();
  const us = useUnits() === 'us';
  const size = us ? M3_S_PER_CFM : 1;
  return (
    <div className="field">
      <label htmlFor={id}>Measured airflow, {us ? 'cfm' : 'm³/s'}</label>
      <input
        id={id}
        key={size}
        inputMode="decimal"
        placeholder={us ? '1000' : '0.47'}
        defaultValue={fieldText(flow === null ? null : flow / size, us ? 0 : 3)}
        onBlur={(event) => {
          const typed = typedNumber(event.target.value);
          const si = typed !== null && typed > 0 ? typed * size : null;
          if (si !== flow) change({ flow_m3_s: si });
        }}
        onKeyDown={(event) => {
          if (event.key === 'Enter') event.currentTarget.blur();
        }}
      />
    </div>
  );
}

function Tick(p: {
  readonly label: string;
  readonly checked: boolean;
  readonly onChange: (checked: boolean) => void;
}): ReactNode {
  return (
    <label className="asked-tick">
      <input
        type="checkbox"
        checked={p.checked}
        onChange={(event) => p.onChange(event.target.checked)}
      />
      {p.label}
    </label>
  );
}

interface ChoiceProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, text: string])[];
  readonly onChange: (value: string) => void;
}

function Choice({ label, value, options, onChange }: ChoiceProps): ReactNode {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {options.map(([key, text]) => (
          <option key={key} value={key}>
            {text}
          </option>
        ))}
      </select>
    </div>
  );
}
