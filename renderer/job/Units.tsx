import { useState, type ReactNode } from 'react';
import { MAKERS_KEYS } from '../../core/diagnosis/maker.ts';
import { refrigerant } from '../../core/refrigerant/refrigerants.ts';
import type { Unit } from '../../core/record/job.ts';
import { flammableCaution } from '../app/cautions.ts';
import { differenceText } from '../app/format.ts';
import { METERING_TEXT } from '../../core/circuit/metering-text.ts';
import { MODE_TEXT } from '../app/text.ts';
import { useApp, useUnits } from '../store/context.ts';
import { UnitDialog } from './UnitDialog.tsx';
import { newUnit } from '../../core/record/job.ts';

const NONE: readonly Unit[] = [];

/** The units of the job with what their nameplates say. */
export function Units(): ReactNode {
  const units = useApp((s) => s.job?.units ?? NONE);
  const [edited, setEdited] = useState<Unit | null>(null);
  const add = () => {
    const taken = new Set(units.map((u) => u.key));
    const free = Array.from('ABCDEFGHIJKLMNOPQRSTUVWXYZ').find((letter) => !taken.has(letter));
    setEdited(newUnit(free ?? ''));
  };
  return (
    <section className="sheet" aria-label="Units">
      <header className="sheet-head">
        <h2>Units</h2>
        <button type="button" onClick={add}>
          Add a unit
        </button>
      </header>
      <ul className="unit-cards">
        {units.map((unit) => (
          <UnitCard key={unit.key} unit={unit} onEdit={() => setEdited(unit)} />
        ))}
      </ul>
      {edited !== null && (
        <UnitDialog
          unit={edited}
          known={units.some((u) => u.key === edited.key)}
          onClose={() => setEdited(null)}
        />
      )}
    </section>
  );
}

function UnitCard(p: { readonly unit: Unit; readonly onEdit: () => void }): ReactNode {
  const { unit } = p;
  const system = useUnits();
  const { nameplate: plate } = unit;
  const burns = flammableCaution(refrigerant(unit.refrigerant).safetyClass);
  const target = (kelvin: number | null) =>
    kelvin === null ? 'none' : differenceText(kelvin, system);
  const chart = MAKERS_KEYS.filter((key) => unit.maker[key] !== undefined).length;
  const stated = Object.keys(unit.accuracy).length;
  return (
    <li className="unit-card">
      <h3>
        <span className="unit-key">{unit.key}</span> {unit.name}
      </h3>
      <p>
        {unit.refrigerant} · {METERING_TEXT[unit.metering]} · {MODE_TEXT[unit.mode]}
      </p>
      <p>
        Target subcooling <b>{target(plate.targetSubcooling_K)}</b>, superheat{' '}
        <b>{target(plate.targetSuperheat_K)}</b>
      </p>
      <p className="muted">
        {[plate.outdoorModel, plate.indoorModel].filter((text) => text !== '').join(' + ')}{' '}
        {stated === 0
          ? 'Sensor accuracy: assumed'
          : `Sensor accuracy stated for ${stated} channels`}
      </p>
      {chart > 0 && (
        <p className="muted">
          Maker’s chart typed in: {chart} {chart === 1 ? 'value' : 'values'}
        </p>
      )}
      {burns !== null && <p className="unit-burns">{burns}</p>}
      <button type="button" onClick={p.onEdit}>
        Edit<span className="sr"> unit {unit.key}</span>
      </button>
    </li>
  );
}
