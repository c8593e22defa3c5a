import { describe, expect, it } from 'vitest';
import { standing } from '../../../../core/checks/standing.ts';
import { standingRefusalText, standingText } from '../../../../core/diagnosis/standing-text.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';

describe('the standing check in words', () => {
  const gaugeAt = (psig: number) => ({ value: pascalFromPsig(psig), u: 1e4 });
  const lines = (psig: number, high: number | null = psig, offFor = 3600): string => {
    const gauge = gaugeAt(psig);
    const rest = { value: 0, u: 1 };
    const outcome = standing({
      refrigerant: 'R-410A',
      running: false,
      low: gauge,
      high: high === null ? null : gaugeAt(high),
      lowRate: rest,
      highRate: high === null ? null : rest,
      surroundings: [{ value: kelvinFromFahrenheit(75), u: 0.5 }],
      offFor,
    });
    return outcome.ok ? standingText(outcome.value, 101_325, 'us').join(' ') : '';
  };

  it('never takes agreement for the right amount', () => {
    expect(lines(219)).toContain('It does not tell how much');
  });

  it('says of one gauge that it cannot see both, and of exchanged hoses what to set right', () => {
    expect(lines(219, null, 60)).toContain('whether both are equal cannot be seen');
    expect(lines(219, null)).not.toContain('Both pressures');
    expect(lines(424, 124)).toContain('probably exchanged');
  });

  it('says without any thermometer what it waits for, and what pressures apart mean in a running unit', () => {
    const outcome = standing({
      refrigerant: 'R-410A',
      running: false,
      low: gaugeAt(217),
      high: gaugeAt(255),
      lowRate: null,
      highRate: null,
      surroundings: [],
      offFor: null,
    });
    const text = outcome.ok ? '' : standingRefusalText(outcome.error, 'us');
    expect(text).toMatch(/38\.0 psi apart: wait until they are equal/);
    expect(text).toContain('heard to run like this does not pump');
    expect(text).toContain('Measure outdoor and return air');
  });

  it('names what above and below can mean, and that time may be all it needs', () => {
    expect(lines(290)).toContain('air or another gas');
    expect(lines(290)).toContain('take the temperature of its surroundings');
    expect(lines(120)).toContain('little or no liquid is left');
  });
});
