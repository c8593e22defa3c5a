import { describe, expect, it } from 'vitest';
import { createDetector } from '../../../../core/steadiness/detector.ts';
import { detectorFor, noise, play, SPECS, superheatMoves, visits } from './driver.ts';

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

  it('does not take the turning point of an overshoot for rest', () => {
    const random = noise(11);
    // Falls, turns at about 250 s, and climbs by more than 4 K over the next quarter hour.
    const move = (t: number): number => 12 * Math.exp(-t / 110) - 6 * Math.exp(-t / 420);
    const signal = superheatMoves((t) => move(t) + 0.05 * random());
    const views = play(detectorFor(), signal, { from: 0, to: 1800 });
    const first = views.findIndex((view) => view.state === 'settled') + 1;
    expect(first).toBeGreaterThan(0);
    const ahead =
      Array.from({ length: 300 }, (_, i) => move(first + i)).reduce((a, b) => a + b) / 300;
    expect(Math.abs(6 + ahead - (views[first - 1]?.motions[2]?.value ?? NaN))).toBeLessThan(5 / 9);
  });

  it('waits for a slow tail and settles once the rest of it is within tolerance', () => {
    const random = noise(13);
    const tail = (t: number): number => 5 * Math.exp(-t / 600);
    const signal = superheatMoves((t) => tail(t) + 0.1 * random());
    const views = play(detectorFor(), signal, { from: 0, to: 3000 });
    const first = views.findIndex((view) => view.state === 'settled') + 1;
    const left = tail(first - 30) - tail(first + 150);
    expect(first).toBeGreaterThan(0);
    expect(left).toBeLessThan(5 / 9);
  });

  it('passes over single wild values and short repeats', () => {
    const random = noise(17);
    const wild = (t: number): number => (t % 200 === 0 ? 8 : Math.round(random()) / 18);
    const views = play(detectorFor(), superheatMoves(wild), { from: 0, to: 1500 });
    expect(visits(views, 'disturbed')).toBe(false);
    expect(views.at(-1)?.state).toBe('settled');
  });

  it('settles on values in whole degrees Fahrenheit that flip between two', () => {
    const random = noise(19);
    const coarse = (): number => Math.round((10.4 + 0.3 * random()) * 1) / 1.8 - 6;
    const views = play(detectorFor(), superheatMoves(coarse), { from: 0, to: 1500 });
    expect(visits(views, 'disturbed')).toBe(false);
    expect(views.at(-1)?.state).toBe('settled');
  });

  it('calls a swing inside the tolerance settled, not hunting', () => {
    const random = noise(23);
    const swing = (t: number): number => 0.3 * Math.sin((2 * Math.PI * t) / 120) + 0.05 * random();
    const last = play(detectorFor(), superheatMoves(swing), { from: 0, to: 1800 }).at(-1);
    expect(last?.state).toBe('settled');
  });

  it('averages a swing over whole periods', () => {
    const swing = (t: number): number => 2 * Math.sin((2 * Math.PI * t) / 150);
    const last = play(detectorFor(), superheatMoves(swing), { from: 0, to: 2400 }).at(-1);
    expect(last?.state).toBe('hunting');
    const length = (last?.window?.to ?? 0) - (last?.window?.from ?? 0);
    expect(Math.abs(length / 150 - Math.round(length / 150))).toBeLessThan(0.06);
    expect(Math.abs((last?.motions[2]?.value ?? NaN) - 6)).toBeLessThan(0.1);
  });

  it('works on frames of five seconds with gaps', () => {
    const random = noise(29);
    const detector = detectorFor();
    const signal = superheatMoves((t) => 6 * Math.exp(-t / 90) + 0.1 * random());
    play(detector, signal, { from: 0, to: 400, dt: 5 });
    const views = play(detector, signal, { from: 440, to: 1500, dt: 5 });
    expect(views.at(-1)?.state).toBe('settled');
  });

  it('counts the run time from the first frame where the start was not seen', () => {
    const detector = detectorFor(600);
    const running = { from: 1000, to: 1100, running: (): boolean => true };
    const view = play(
      detector,
      superheatMoves(() => 0),
      running,
    ).at(-1);
    expect(view?.seenStart).toBe(false);
    expect(view?.runTime).toBe(100);
    const seen = detectorFor(600);
    const started = { from: 0, to: 100, running: (t: number): boolean => t > 20 };
    expect(
      play(
        seen,
        superheatMoves(() => 0),
        started,
      ).at(-1)?.seenStart,
    ).toBe(true);
  });

  it('forecasts the time left within its interval on a plain approach', () => {
    const random = noise(31);
    const signal = superheatMoves((t) => 8 * Math.exp(-t / 200) + 0.05 * random());
    const views = play(detectorFor(), signal, { from: 0, to: 1800 });
    const settledAt = views.findIndex((view) => view.state === 'settled');
    const left = views[settledAt - 120]?.timeLeft;
    if (left === null || left === undefined)
      throw new Error('no forecast two minutes before it settled');
    expect(left.from).toBeLessThanOrEqual(130);
    expect(left.to).toBeGreaterThanOrEqual(110);
  });

  it('leaves settled when the mean drifts away', () => {
    const random = noise(37);
    const drift = (t: number): number => (t > 900 ? 0.006 * (t - 900) : 0) + 0.05 * random();
    const views = play(detectorFor(), superheatMoves(drift), { from: 0, to: 1400 });
    expect(views[890]?.state).toBe('settled');
    expect(views.slice(900, 1200).some((view) => view.state === 'moving')).toBe(true);
  });

  it('goes on being settled, about a new average, where a slow mean leaves the old one', () => {
    const random = noise(41);
    // Two thirds of the tolerance over the horizon: still, but after eight minutes another value.
    const creep = (t: number): number => (0.67 * (5 / 9) * t) / 300 + 0.05 * random();
    const views = play(detectorFor(), superheatMoves(creep), { from: 0, to: 3600 });
    const first = views.findIndex((view) => view.state === 'settled');
    const rest = views.slice(first);
    expect(first).toBeGreaterThan(0);
    expect(rest.filter((view) => view.state !== 'settled')).toEqual([]);
    expect(rest.every((view) => view.since === rest[0]?.since)).toBe(true);
    const declared = rest.filter((view, i) => i > 0 && view.declaredAt !== rest[i - 1]?.declaredAt);
    expect(declared.length).toBeGreaterThanOrEqual(3);
    for (const view of declared) expect(view.reason.code).toBe('still');
  });

  it('tells of no change that its tolerance would allow while it is not settled', () => {
    for (const seed of [43, 47, 53]) {
      const random = noise(seed);
      const move = (t: number): number => 4 * Math.exp(-t / 300) + 0.4 * random();
      for (const view of play(detectorFor(), superheatMoves(move), { from: 0, to: 2400 })) {
        const { reason } = view;
        if (reason.code !== 'unsure' && reason.code !== 'drifting') continue;
        const motion = view.motions.find((m) => m.key === reason.quantity);
        expect(Math.abs(reason.drift) + reason.driftU).toBeGreaterThan(motion?.tolerance ?? 0);
      }
    }
  });

  it.each([
    ['rises to a peak and falls back', (t: number) => 8 * Math.exp(-t / 25) - 8 * Math.exp(-t / 8)],
    ['falls steeply and bends', (t: number) => 20 * Math.exp(-t / 30)],
    ['rises steeply and bends', (t: number) => -15 * Math.exp(-t / 15)],
  ])('does not take the transient of a start for a disturbance: %s', (_, move) => {
    const random = noise(59);
    const signal = (t: number): readonly number[] =>
      t <= 300 ? [295, 295.2, 0, 0, 0] : superheatMoves((s) => move(s - 300) + 0.05 * random())(t);
    const views = play(detectorFor(600), signal, { from: 0, to: 1200, running: (t) => t > 300 });
    expect(visits(views, 'disturbed')).toBe(false);
    expect(views.at(-1)?.state).toBe('settled');
  });

  it.each([20, 40, 60])('leaves settled soon where something moves within %s s', (length) => {
    const random = noise(61);
    const move = (t: number): number =>
      Math.min(1, Math.max(0, (t - 900) / length)) * 2 + 0.05 * random();
    const views = play(detectorFor(), superheatMoves(move), { from: 0, to: 1100 });
    expect(views[895]?.state).toBe('settled');
    const left = views.findIndex((view, i) => i > 899 && view.state !== 'settled') - 899;
    expect(left).toBeGreaterThan(0);
    expect(left).toBeLessThanOrEqual(15 + length / 2);
    expect(visits(views.slice(0, 899), 'disturbed')).toBe(false);
  });

  it('is not still while a quantity that only stands by runs away, and tells of its trend before', () => {
    const random = noise(67);
    // Ice: evaporating falls ever faster while a valve holds the superheat.
    const specs = SPECS.map((s) => ({
      ...s,
      required: s.key === 'superheat' || s.key === 'subcooling',
    }));
    const detector = createDetector({ specs, minimumRun: 0 });
    const ice = (t: number): number => -0.4 * Math.expm1(Math.max(0, t - 600) / 500);
    const signal = (t: number): readonly number[] => {
      const base = superheatMoves(() => 0.05 * random())(t);
      return base.map((value, q) => (q === 0 ? value + ice(t) + 0.05 * random() : value));
    };
    const views = play(detector, signal, { from: 0, to: 2400 });
    expect(views[600]?.state).toBe('settled');
    const told = views.slice(600).find((v) => v.reason.code === 'still' && v.reason.trend !== null);
    expect(told?.reason).toMatchObject({ quantity: 'suctionSaturation' });
    const left = views.findIndex((view, i) => i > 600 && view.state !== 'settled');
    // From then on it moves by more than three tolerances in five minutes.
    expect(ice(left) - ice(left + 300)).toBeGreaterThan(5 / 9);
    expect(ice(left) - ice(left + 300)).toBeLessThan(4 * (5 / 9));
    expect(visits(views.slice(1900), 'settled')).toBe(false);
  });

  it('tells of what moved much while still, also where it had just moved the other way', () => {
    const random = noise(73);
    const specs = SPECS.map((s) => ({
      ...s,
      required: s.key === 'superheat' || s.key === 'subcooling',
    }));
    const detector = createDetector({ specs, minimumRun: 0 });
    // Sun and cloud: condensing falls by 0.3 K and then rises by 1 K, each in two minutes.
    const sway = (t: number): number =>
      -0.3 * Math.min(1, Math.max(0, (t - 900) / 120)) + Math.min(1, Math.max(0, (t - 1020) / 120));
    const signal = (t: number): readonly number[] =>
      superheatMoves(() => 0.05 * random())(t).map((value, q) =>
        q === 1 ? value + sway(t) + 0.05 * random() : value,
      );
    const views = play(detector, signal, { from: 0, to: 1300 });
    let risen = 0;
    for (let t = 900; t < 1300; t += 1) {
      const reason = views[t]?.reason;
      if (reason?.code !== 'still' || sway(t - 30) - sway(t - 180) < 0.5) continue;
      risen += 1;
      expect(reason).toMatchObject({ quantity: 'liquidSaturation' });
      expect(reason.trend?.change).toBeGreaterThan(0.2);
      expect(reason.counted).toEqual(['superheat', 'subcooling']);
    }
    expect(risen).toBeGreaterThan(60);
  });

  it('holds the time left within its 90 % interval over the last five minutes', () => {
    let held = 0;
    let told = 0;
    for (const tau of [60, 120, 200, 300, 420, 600]) {
      const random = noise(71 + tau);
      const move = (t: number): number => 9 * Math.exp(-Math.max(0, t - 30) / tau) + 0.1 * random();
      const running = (t: number): boolean => t > 30;
      const views = play(detectorFor(), superheatMoves(move), { from: 0, to: 3000, running });
      const settledAt = views.findIndex((view) => view.state === 'settled');
      for (let i = Math.max(120, settledAt - 300); i < settledAt; i += 10) {
        const left = views[i]?.timeLeft;
        if (left === null || left === undefined) continue;
        told += 1;
        const actual = settledAt - i;
        if (actual >= left.from - 10 && actual <= left.to + 10) held += 1;
      }
    }
    expect(told).toBeGreaterThan(60);
    expect(held / told).toBeGreaterThanOrEqual(0.85);
  });
});
