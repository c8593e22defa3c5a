import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { differenceFromFahrenheit } from '../../../../core/units/temperature.ts';
import type { SnapshotContent } from '../../../../core/engine-types.ts';
import { inputOf, NO_PLATE, probabilityOf, type Written, SOUND } from './make.ts';

const nameplate = { ...NO_PLATE, targetSubcooling_K: differenceFromFahrenheit(10) };
describe('a swing', () => {
  const swinging = (amplitude: number): SnapshotContent['reason'] => ({
    code: 'swinging',
    quantity: 'superheat',
    amplitude,
    period: 120,
  });
  const FEW: Written = { suction: 122, liquid: 365, suctionLine: 52, liquidLine: 99.5 };
  const at = (amplitude: number, written = SOUND) => {
    const input = inputOf(written, { state: 'hunting' }, { nameplate });
    return judge({ ...input, content: { ...input.content, reason: swinging(amplitude) } })
      .diagnosis;
  };

  it('that is small accuses no valve of a unit that reads as a sound one', () => {
    for (const amplitude of [0.6, 1, 1.5]) {
      for (const written of [SOUND, FEW]) {
        const { answer, suspects } = at(amplitude, written);
        expect(answer).toBe('cannotTell');
        expect(probabilityOf(suspects, 'valveHunting')).toBeLessThan(0.4);
      }
    }
  });

  it('accuses it the more the larger it is', () => {
    const p = [0.6, 1.5, 2.5, 5].map((a) => probabilityOf(at(a).suspects, 'valveHunting'));
    expect([...p].sort((a, b) => a - b)).toEqual(p);
    expect(at(2.5).answer).toBe('suspect');
    expect(at(2.5).suspects[0]?.key).toBe('valveHunting');
  });

  it('of an evaporating coil short of air is not laid to its valve: indoors cooling, outdoors heating', () => {
    // Sporlan, valve hunting: a light load on the evaporator sets a sound valve swinging.
    const short = inputOf(
      { ...SOUND, suction: 96, liquid: 338, suctionLine: 38, liquidLine: 93.5, supply: 48 },
      { state: 'hunting' },
      { nameplate },
    );
    const judged = judge({ ...short, content: { ...short.content, reason: swinging(2.5) } });
    expect(judged.diagnosis.suspects[0]?.key).toBe('lowIndoorAir');
  });
});
