import { describe, expect, it } from 'vitest';
import { judge } from '../../../core/checks/running.ts';
import { noteText } from '../../../renderer/judgement/note-text.ts';
import { inputOf, type Written } from '../core/diagnosis/make.ts';

/** A coil below freezing after twelve minutes of running: urgent, and no word on the charge yet. */
const COLD: Written = {
  suction: 80,
  liquid: 330,
  suctionLine: 34,
  liquidLine: 95,
  outdoor: 90,
  return: 75,
  wetBulb: 63,
  supply: 45,
};

describe('the note of a judgement', () => {
  it('says what is urgent first, then the answer, the charge and why it is not judged', () => {
    const judgement = judge(inputOf(COLD, {}, { runTime: 720, airflow: { kind: 'unknown' } }));
    const lines = noteText('A', judgement, 'cooling', 'us').split('\n');
    const at = (pattern: RegExp): number => lines.findIndex((line) => pattern.test(line));
    const places = [
      at(/^Unit A, judgement/),
      at(/ices over.*do not leave it running/),
      at(/^Suspects: /),
      at(/^The charge is not judged/),
      at(/^It has run for 12 minutes/),
      at(/^Air temperature drop .*limits.*\(below/),
    ];
    expect(places).not.toContain(-1);
    expect(places).toEqual([...places].sort((a, b) => a - b));
  });

  it('of a unit that stands is the standing check, and no word on running', () => {
    const running = judge(inputOf(COLD));
    const judgement = {
      ...running,
      diagnosis: { ...running.diagnosis, suspects: [] },
      hazards: [],
    };
    const lines = ['Both pressures are equal.'];
    expect(noteText('A', judgement, 'cooling', 'us', lines)).toBe(
      'Unit A, standing check.\nBoth pressures are equal.',
    );
    expect(noteText('A', running, 'cooling', 'us', lines)).toContain('\nBoth pressures are equal.');
  });

  it('names two faults that look alike in cooling, and neither in heating, as the sheet does', () => {
    const judged = judge(inputOf(COLD));
    const [one, two] = judged.diagnosis.suspects.filter(({ key }) => key !== 'nothingWrong');
    if (one === undefined || two === undefined) throw new Error('two suspects are needed');
    const suspects = [
      { ...one, probability: 0.4 },
      { ...two, key: 'overcharge', probability: 0.35 } as const,
    ];
    const diagnosis = { ...judged.diagnosis, answer: 'cannotTell', suspects } as const;
    const open = { ...judged, refusals: [], diagnosis };
    expect(noteText('A', open, 'cooling', 'us')).toContain('One of two: ');
    expect(noteText('A', open, 'heating', 'us')).toContain('It cannot be told yet.');
  });
});
