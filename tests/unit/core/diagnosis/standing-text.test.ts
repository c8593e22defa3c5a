import { describe, expect, it } from 'vitest';
import { standing } from '../../../../core/checks/standing.ts';
import { standingText } from '../../../../core/diagnosis/standing-text.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';

describe('the standing check in words', () => {
  const lines = (psig: number): string => {
    const gauge = { value: pascalFromPsig(psig), u: 1e4 };
    const rest = { value: 0, u: 1 };
    const outcome = standing({
      refrigerant: 'R-410A',
      running: false,
      low: gauge,
      high: gauge,
      lowRate: rest,
      highRate: rest,
      surroundings: [{ value: kelvinFromFahrenheit(75), u: 0.5 }],
      offFor: 3600,
    });
    return outcome.ok ? standingText(outcome.value, 101_325, 'us').join(' ') : '';
  };

  it('never takes agreement for the right amount', () => {
    expect(lines(219)).toContain('It does not tell how much');
  });

  it('names what above and below can mean, and that time may be all it needs', () => {
    expect(lines(290)).toContain('air or another gas');
    expect(lines(290)).toContain('take the temperature of its surroundings');
    expect(lines(120)).toContain('little or no liquid is left');
  });
});
