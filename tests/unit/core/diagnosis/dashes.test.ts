import { describe, expect, it } from 'vitest';
import { judge } from '../../../../core/checks/running.ts';
import { weighedText } from '../../../../core/diagnosis/evidence-text.ts';
import type { UnitStyle } from '../../../../core/diagnosis/format.ts';
import { inputOf, probabilityOf, type Written } from './make.ts';

/** R-410A behind an orifice at 95 °F outdoors and 60 °F wet bulb, where the charging chart prints a dash. */
const AIR: Written = { outdoor: 95, return: 76, wetBulb: 60, supply: 56 };
const of = (written: Written) => judge(inputOf({ ...AIR, ...written }, { metering: 'fixed' }));

describe('where the superheat chart prints a dash', () => {
  it('takes a superheat far above 5 °F for what it is, and still judges no charge', () => {
    // 16 °F of superheat and 4 °F of subcooling.
    const { diagnosis, charge } = of({
      suction: 118,
      liquid: 385,
      suctionLine: 56,
      liquidLine: 109,
    });
    const [first] = diagnosis.suspects;
    expect(first?.key).toBe('lowCharge');
    expect(diagnosis.answer).toBe('suspect');
    expect(charge.code).toBe('REFUSED');
    const said = (style: UnitStyle): string =>
      (first?.for ?? []).map((w) => weighedText(w, 'cooling', style)).join(' ');
    const dash = 'Superheat .*the superheat chart, which prints a dash here';
    expect(said('us')).toMatch(new RegExp(`${dash} \\(under 5.0 °F\\)`));
    expect(said('si')).toMatch(new RegExp(`${dash} \\(under 2.8 K\\)`));
  });

  it('says nothing of a superheat that is as small as it asks', () => {
    const { diagnosis } = of({ suction: 122, liquid: 392, suctionLine: 44.5, liquidLine: 104 });
    const sources = diagnosis.suspects.flatMap((s) =>
      [...s.for, ...s.against].flatMap(({ item }) =>
        item.kind === 'residual' && item.feature === 'superheat' ? [item.source] : [],
      ),
    );
    expect(sources).not.toContain('dash');
    expect(probabilityOf(diagnosis.suspects, 'lowCharge')).toBeLessThan(0.06);
  });

  it('raises no alarm within the tolerance of the chart', () => {
    // 8.6 °F: what a target just under 5 °F and ± 5 °F allow.
    const { diagnosis } = of({ suction: 122, liquid: 392, suctionLine: 50, liquidLine: 104 });
    expect(diagnosis.suspects[0]?.key).toBe('nothingWrong');
    expect(diagnosis.answer).not.toBe('suspect');
  });
});
