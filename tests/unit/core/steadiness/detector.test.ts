import { describe, expect, it } from 'vitest';
import { detectorFor, noise, play, superheatMoves, visits } from './driver.ts';

describe('states of the detector', () => {
  it('is idle and says so before anything has arrived', () => {
    const view = detectorFor().view();
    expect(view.state).toBe('idle');
    expect(view.reason).toEqual({ code: 'noData' });
  });

  it('settles on a constant signal', () => {
    const views = play(
      detectorFor(),
      superheatMoves(() => 0),
      { from: 0, to: 900 },
    );
    const last = views.at(-1);
    expect(last?.state).toBe('settled');
    expect(last?.reason.code).toBe('still');
  });

  it('stays in starting until the minimum run time is over, with the reason', () => {
    const views = play(
      detectorFor(600),
      superheatMoves(() => 0),
      { from: 0, to: 900 },
    );
    expect(visits(views.slice(0, 595), 'settled')).toBe(false);
    expect(views[590]?.state).toBe('starting');
    expect(views[590]?.reason).toMatchObject({ code: 'minimumRun', minimum: 600 });
    expect(views[605]?.state).toBe('settled');
  });

  it('never settles on a ramp of twice the tolerance over the horizon', () => {
    const rate = (2 * (5 / 9)) / 300;
    const random = noise(7);
    const signal = superheatMoves((t) => rate * t + 0.05 * random());
    expect(visits(play(detectorFor(), signal, { from: 0, to: 3600 }), 'settled')).toBe(false);
  });

  it('goes idle with the time of the stop, and forgets', () => {
    const detector = detectorFor();
    const signal = superheatMoves(() => 0);
    const views = play(detector, signal, { from: 0, to: 700, running: (t) => t <= 600 });
    expect(views[598]?.state).toBe('settled');
    expect(views[601]?.state).toBe('idle');
    expect(views[601]?.reason).toEqual({ code: 'stopped', at: 601 });
    expect(views[601]?.window).toBeNull();
  });

  it('is blind after fifteen seconds without a required quantity, and names the channels', () => {
    const gone = (t: number): readonly number[] => [280, 315, t > 600 ? NaN : 6, 5, 11];
    const views = play(detectorFor(), gone, { from: 0, to: 640 });
    expect(views[612]?.state).toBe('settled');
    const blind = views[618];
    expect(blind?.state).toBe('blind');
    expect(blind?.reason).toEqual({
      code: 'missing',
      quantities: ['superheat'],
      channels: ['suctionPressure', 'suctionLineTemp'],
    });
  });

  it('notices a step of superheat within ten seconds', () => {
    const random = noise(3);
    const signal = superheatMoves((t) => (t > 600 ? 3 : 0) + 0.1 * random());
    const views = play(detectorFor(), signal, { from: 0, to: 700 });
    const first = views.findIndex((view) => view.state === 'disturbed') + 1;
    expect(first).toBeGreaterThan(600);
    expect(first).toBeLessThanOrEqual(610);
  });

  it('names a swing with amplitude and period', () => {
    const random = noise(5);
    const swing = (t: number): number => 2 * Math.sin((2 * Math.PI * t) / 90) + 0.1 * random();
    const last = play(detectorFor(), superheatMoves(swing), { from: 0, to: 1800 }).at(-1);
    expect(last?.state).toBe('hunting');
    const reason = last?.reason;
    if (reason?.code !== 'swinging') throw new Error('not named');
    expect(reason.quantity).toBe('superheat');
    expect(Math.abs(reason.amplitude - 2)).toBeLessThan(0.2);
    expect(Math.abs(reason.period - 90)).toBeLessThan(4);
  });
});
