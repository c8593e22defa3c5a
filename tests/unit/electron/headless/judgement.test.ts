import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { analyze } from '../../../../electron/headless/analyze.ts';
import { compareFiles } from '../../../../electron/headless/compare.ts';

const folder = mkdtempSync(join(tmpdir(), 'judgement-'));

const HEADER =
  'time[s],suctionPressure[psig],liquidPressure[psig],suctionLineTemp[degF],liquidLineTemp[degF]';
/** A quiet session of constant readings with a ripple of a tenth, every 2 s. */
function file(name: string, values: readonly number[], seconds = 1500, air = ''): string {
  const rows = [
    HEADER +
      (air === ''
        ? ''
        : ',outdoorAirTemp[degF],returnAirTemp[degF],returnAirWetBulb[degF],supplyAirTemp[degF]'),
  ];
  for (let t = 0; t < seconds; t += 2) {
    const ripple = 0.1 * Math.sin(t * 1.7);
    rows.push([t, ...values.map((v) => (v + ripple).toFixed(2))].join(','));
  }
  const path = join(folder, name);
  writeFileSync(path, rows.join('\n'));
  return path;
}
const OPTIONS = ['--refrigerant', 'R-410A', '--metering', 'txv', '--mode', 'cooling'];

interface Analysis {
  refusals: { code: string; text: string }[];
  targets: { quantity: string; degF: number | null; source: string }[];
  verdicts: { quantity: string; verdict: string }[];
  suspects: { key: string; probability: number; evidence: { for: string[] }; nextCheck: unknown }[];
  figures: Record<string, { degF: number; explain: string }>;
  charge: { code: string; cautions: string[] };
  afterJudged: string | null;
  answer: string;
  answerText: string;
}

describe('analyze', () => {
  const low = file('low.csv', [100, 320, 58, 98, 90, 75, 63, 60], 1500, 'air');

  it('prints targets, verdicts, suspects and figures of the settled span', () => {
    const result = analyze([low, ...OPTIONS, '--target-subcooling', '10degF']) as Analysis;
    expect(result.targets.map((t) => t.quantity)).toEqual(['superheat', 'subcooling', 'airDrop']);
    expect(result.verdicts.find((v) => v.quantity === 'subcooling')?.verdict).toBe('below');
    expect(result.suspects[0]?.key).toBe('lowCharge');
    expect(result.suspects[0]?.evidence.for.join(' ')).toContain('Subcooling 2.3 °F');
    expect(result.suspects[0]?.nextCheck).not.toBeNull();
    expect(result.figures['superheat']?.degF).toBeCloseTo(26.5, 0);
    expect(result.figures['pressureRatio']?.explain).toContain('high-side pressure');
    expect(result.charge.code).toBe('LIKELY_LOW');
    expect(result.charge.cautions.join(' ')).toMatch(/never vent.*dry nitrogen only/);
  });

  it('names the hazard beside which it calls no unit sound', () => {
    const wet = file('wet.csv', [122, 365, 44, 99.5, 90, 75, 63, 56], 1500, 'air');
    const orifice = ['--refrigerant', 'R-410A', '--metering', 'fixed', '--mode', 'cooling'];
    const result = analyze([wet, ...orifice]) as Analysis;
    expect(result.suspects[0]?.key).toBe('nothingWrong');
    expect(result.answerText).toContain('beside this: liquid may reach the compressor');
  });

  it('takes what a person saw, and refuses over ice', () => {
    const args = [low, ...OPTIONS, '--observed', 'icedCoil,dirtyFilter'];
    const result = analyze(args) as Analysis;
    expect(result.refusals.map((r) => r.code)).toContain('ICED_COIL');
    expect(result.verdicts).toEqual([]);
    expect(['lowIndoorAir', 'icedCoil']).toContain(result.suspects[0]?.key);
  });

  it('says what came after the readings it judges, and nothing where nothing did', () => {
    expect((analyze([low, ...OPTIONS]) as Analysis).afterJudged).toBeNull();
    const rows = [`${HEADER},outdoorAirTemp[degF]`];
    // At rest; at 1600 s the outdoor fan fails, 60 s later the pressure switch opens.
    for (let t = 0; t < 1900; t += 2) {
      const head = 365 + Math.max(0, t - 1600) * 3.5;
      const values = t < 1660 ? [122, head, 52, 99.5, 90] : [230, 240, 80, 85, 90];
      rows.push([t, ...values.map((v) => (v + 0.1 * Math.sin(t * 1.7)).toFixed(2))].join(','));
    }
    const tripped = join(folder, 'tripped.csv');
    writeFileSync(tripped, rows.join('\n'));
    const result = analyze([tripped, ...OPTIONS, '--target-subcooling', '10degF']) as Analysis;
    expect(result.verdicts.length).toBeGreaterThan(0);
    expect(result.afterJudged).toMatch(/condensing temperature went up.*has stopped/);
    expect(result.answerText.endsWith(result.afterJudged ?? '?')).toBe(true);
    expect(result.suspects[0]?.key).toBe('nothingWrong');
    expect(result.answer).toBe('cannotTell');
    expect(result.answerText).toContain('but then something changed');
  });

  it('judges nothing of a session that never settled, and says why', () => {
    const short = file('short.csv', [100, 320, 58, 98], 300);
    const result = analyze([short, ...OPTIONS]) as Analysis;
    expect(result.refusals.map((r) => r.code)).toContain('UNSTEADY');
    expect(result.verdicts).toEqual([]);
  });

  describe('a swing about a still mean', () => {
    /** Swings by 5 °F every 90 s for 40 minutes, then goes on as told; every 2 s. */
    function swings(name: string, then: (since: number) => readonly number[]): string {
      const rows = [HEADER];
      for (let t = 0; t < 2900; t += 2) {
        const swing = 5 * Math.sin((2 * Math.PI * t) / 90);
        const values = t < 2400 ? [122, 365, 52 + swing, 99.5] : then(t - 2400);
        rows.push([t, ...values.map((v) => (v + 0.1 * Math.sin(t * 1.7)).toFixed(2))].join(','));
      }
      const path = join(folder, name);
      writeFileSync(path, rows.join('\n'));
      return path;
    }
    const ends: [string, (since: number) => readonly number[]][] = [
      ['the unit was switched off', () => [220, 222, 80, 85]],
      ['everything began to move', (s) => [122 - s / 20, 365 + s / 6, 52 + s / 25, 99.5]],
    ];
    for (const [what, then] of ends) {
      it(`is judged also where ${what} after it`, () => {
        const path = swings(`${what}.csv`, then);
        const result = analyze([path, ...OPTIONS, '--target-subcooling', '10degF']) as Analysis;
        const codes = result.refusals.map((r) => r.code);
        expect(codes).not.toContain('NOT_RUNNING');
        expect(codes).not.toContain('UNSTEADY');
        expect(result.suspects[0]?.key).toBe('valveHunting');
        expect(result.figures['superheat']?.degF).toBeCloseTo(10.4, 0);
        expect(result.answerText).toContain('does not hold for what came after');
      });
    }
  });

  it('judges against the unit on its healthy day', () => {
    const high = file('high.csv', [122, 418, 52, 109.5, 90, 75, 63, 56], 1500, 'air');
    const without = analyze([high, ...OPTIONS]) as Analysis;
    const withIt = analyze([high, ...OPTIONS, '--baseline', high]) as Analysis;
    const p = (a: Analysis): number =>
      a.suspects.find((s) => s.key === 'nothingWrong')?.probability ?? 0;
    expect(p(withIt)).toBeGreaterThan(p(without));
    const twin = analyze([high, ...OPTIONS, '--twin', high]) as Analysis;
    expect(p(twin)).toBeGreaterThan(p(without));
    const short = file('never.csv', [122, 418, 52, 109.5], 300);
    expect(() => analyze([high, ...OPTIONS, '--baseline', short])).toThrow('never settled');
  });

  it('judges against a line of the maker’s chart', () => {
    const chart = join(folder, 'chart.json');
    writeFileSync(chart, JSON.stringify({ subcooling: '2 degF', superheat: '26 degF' }));
    const result = analyze([low, ...OPTIONS, '--maker', chart]) as Analysis;
    const subcooling = result.targets.find((t) => t.quantity === 'subcooling');
    expect(subcooling?.degF).toBeCloseTo(2, 6);
    expect(subcooling?.source).toContain('maker’s chart');
    expect(result.verdicts.find((v) => v.quantity === 'superheat')?.verdict).toBe('within');
    writeFileSync(chart, JSON.stringify({ subcooling: 'two' }));
    expect(() => analyze([low, ...OPTIONS, '--maker', chart])).toThrow('at subcooling');
  });

  it('makes the standing check of a session that ends at rest', () => {
    const rest = file('rest.csv', [219, 220, 75, 75, 75, 75, 63, 75], 900, 'air');
    const result = analyze([rest, ...OPTIONS]) as Analysis & { standing: { verdict: string } };
    expect(result.standing.verdict).toBe('agrees');
    expect(result.refusals.map((r) => r.code)).toContain('NOT_RUNNING');
  });

  it('names a word that is in no list', () => {
    expect(() => analyze([low, ...OPTIONS, '--observed', 'ghosts'])).toThrow("cannot be 'ghosts'");
    expect(() => analyze([low, ...OPTIONS, '--airflow', '12'])).toThrow('1000cfm');
    expect(() => analyze([low, ...OPTIONS, '--checked', 'drierDrop=maybe'])).toThrow('drop, none');
  });
});

describe('compare', () => {
  const a = file('a.csv', [103, 331, 43, 85.5]);
  const b = file('b.csv', [125, 275, 53, 80]);

  it('puts two files side by side', () => {
    const result = compareFiles([a, b, ...OPTIONS, '--heat-pump']) as {
      units: { unit: string; suspects: { key: string; probability: number }[] }[];
      pairs: { words: string[]; differences: { feature: string; corrected_degF: number }[] }[];
    };
    const first = result.units[0]?.suspects.slice(0, 4).map((s) => s.key) ?? [];
    expect(first).toContain('overcharge');
    expect(first).toContain('liquidLineRestriction');
    expect(result.pairs[0]?.words.join(' ')).toContain('restriction before the valve');
    const evaporating = result.pairs[0]?.differences.find((d) => d.feature === 'evaporating');
    expect(evaporating?.corrected_degF).toBeCloseTo(-9.9, 0);
  });

  it('asks for two files, and for the unit of what was seen', () => {
    expect(() => compareFiles([a, ...OPTIONS])).toThrow('which files');
    const seen = [a, b, ...OPTIONS, '--observed', 'icedCoil'];
    expect(() => compareFiles(seen)).toThrow('must name a unit');
    expect(() => compareFiles([a, b, ...OPTIONS, '--baseline', a])).toThrow('one unit');
  });
});
