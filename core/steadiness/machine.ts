/**
 * The state machine of steadiness: what runs, what is missing, what was disturbed, and whether the
 * judge's evidence has been good enough for long enough. Entering needs more than staying, so that
 * a state does not flicker.
 */
import { Creep } from './creep.ts';
import type { Judge } from './judge.ts';
import { LOOK_BACK_S, STANDBY } from './judgement.ts';
import { Reasons, Z95, type Departed } from './reasons.ts';
import type {
  Frame,
  QuantityKey,
  QuantityMotion,
  QuantitySpec,
  Reason,
  SteadinessGlance,
  SteadinessState,
  SteadinessView,
  TimeLeft,
} from './types.ts';
import { channelsFor } from './quantities.ts';

/** A sudden change that was noticed. */
export interface Event {
  readonly quantity: QuantityKey;
  readonly size: number;
  readonly at: number;
  readonly within: number;
}

/** Confidence asked for before anything is called settled, and below which it is no longer. */
const ENTER = 0.94;
const LEAVE = 0.5;
const LEAVE_STANDBY = 0.1;
/** Evaluations (about 5 s each) in a row that must agree. */
const ENTER_TIMES = 2;
const LEAVE_TIMES = 3;
/** A swing makes doubts come and go with its phase: of its mean they must outlast the short ones. */
const LEAVE_HUNTING_TIMES = 16;
/** `disturbed` is shown at least this long, s. */
const DISTURBED_S = 20;
/** Required quantities may be absent this long, s, and for this many frames. */
const BLIND_S = 15;
const BLIND_FRAMES = 3;
/** Seconds of watching without which nothing is said. */
const LEAST_WATCH_S = 75;
/** A swing is hunting from this many tolerances of amplitude on, and no longer below the second. */
const HUNTING_FROM = 1;
const HUNTING_UNTIL = 0.8;
/** How much later than the end of the minimum run time it may get, as a share of what is left. */
const FLOOR_DOUBT = 0.5;

/** What a frame brought. */
export interface Seen {
  /** Whether the judge weighed its evidence anew. */
  readonly evaluated: boolean;
  readonly event: Event | null;
  /** Whether a step may be under way: nothing is called still on what it has not reached yet. */
  readonly suspect: boolean;
}

export interface Machine {
  /** Whether the unit runs in this frame, as a change or a state. */
  running(frame: Frame): 'began' | 'runs' | 'stopped' | 'idle';
  frame(frame: Frame, seen: Seen): void;
  /** Whether it is called settled, or hunting about a still mean, now. */
  still(): boolean;
  glance(): SteadinessGlance;
  view(): SteadinessView;
}

interface Parts {
  readonly specs: readonly QuantitySpec[];
  readonly horizon: number;
  readonly minimumRun: number;
  readonly judge: Judge;
}

/** Creates the state machine over a judge. */
export function createMachine(parts: Parts): Machine {
  return new SteadinessMachine(parts);
}

class SteadinessMachine implements Machine {
  readonly #specs: readonly QuantitySpec[];
  readonly #horizon: number;
  readonly #minimum: number;
  readonly #judge: Judge;
  readonly #reasons: Reasons;
  readonly #lastSeen: Float64Array;
  readonly #declared: Float64Array;
  readonly #creep: Creep;
  /** Index of the quantity that creeps away from every average declared of it; -1 with none. */
  #creeping = -1;
  #state: SteadinessState = 'idle';
  /** Whether the state says that the mean is at rest: settled, or hunting about a still mean. */
  #rests = false;
  #since = 0;
  #reason: Reason = { code: 'noData' };
  #runs = false;
  /** When the declared average was declared, s. */
  #declaredAt = NaN;
  /** What made the declared average no longer hold, until something better can be said. */
  #departure: Departed | null = null;
  #known = false; // whether running or not was ever told
  #seenStart = false;
  #runFrom = NaN;
  #stoppedAt = NaN;
  #firstFrom = NaN;
  #now = NaN;
  #disturbance: Event | null = null;
  #enter = 0;
  #leave = 0;
  #still = false;
  #hunting = false;
  /** Whether the latest evidence is what is asked for to call it still. */
  #good = false;
  /** What is said of stillness, until the evidence is weighed anew. */
  #stillness: Reason | null = null;
  #missing: QuantityKey[] = [];
  /** Whether the evidence was weighed since it was last cut; the time left is told only then... */
  #weighed = false;
  /** ... and worked out when it is asked for, once for each weighing. */
  #asked = false;
  #timeLeft: TimeLeft | null = null;

  constructor(parts: Parts) {
    this.#specs = parts.specs;
    this.#horizon = parts.horizon;
    this.#minimum = parts.minimumRun;
    this.#judge = parts.judge;
    this.#reasons = new Reasons({ ...parts, asked: ENTER });
    this.#lastSeen = new Float64Array(parts.specs.length).fill(NaN);
    this.#declared = new Float64Array(parts.specs.length).fill(NaN);
    this.#creep = new Creep(parts.specs.length);
  }

  running(frame: Frame): 'began' | 'runs' | 'stopped' | 'idle' {
    const from = frame.t - frame.dt;
    if (Number.isNaN(this.#firstFrom)) this.#firstFrom = from;
    const before = this.#runs;
    // Where it cannot be told the last belief stays; at first the unit is taken to run.
    const runs = frame.running ?? (this.#known ? before : true);
    if (runs && !before) {
      this.#seenStart = this.#known && frame.running === true;
      this.#runFrom = from;
      this.#judge.seen(this.#seenStart);
    }
    // What was only taken to run at first did not stop: it stood.
    if (!runs && before && this.#known) this.#stoppedAt = frame.t;
    if (frame.running !== null) this.#known = true;
    this.#runs = runs;
    if (runs) return before ? 'runs' : 'began';
    return before ? 'stopped' : 'idle';
  }

  frame(frame: Frame, { evaluated, event, suspect }: Seen): void {
    this.#now = frame.t;
    if (!this.#runs) {
      this.#unsettle();
      this.#disturbance = null;
      const stopped = !Number.isNaN(this.#stoppedAt);
      this.#enterState(
        'idle',
        stopped ? { code: 'stopped', at: this.#stoppedAt } : { code: 'notRunning' },
      );
      return;
    }
    if (this.#lookForMissing(frame)) {
      this.#unsettle();
      this.#enterState('blind', {
        code: 'missing',
        quantities: this.#missing,
        channels: channelsFor(this.#missing),
      });
      return;
    }
    if (event !== null) {
      this.#disturbance = event;
      this.#unsettle();
    }
    if (evaluated && this.#judge.ready()) this.#weigh(suspect);
    this.#settleState();
  }

  /** Notes absences; true while a required quantity has been absent too long. */
  #lookForMissing(frame: Frame): boolean {
    const patience = Math.max(BLIND_FRAMES * frame.dt, BLIND_S) + 1e-6;
    let missing = false;
    for (let q = 0; q < this.#specs.length; q += 1) {
      if (!Number.isNaN(frame.values[q] ?? NaN)) {
        this.#lastSeen[q] = frame.t;
        continue;
      }
      const seen = this.#lastSeen[q] ?? NaN;
      const since = Number.isNaN(seen) ? this.#firstFrom : seen;
      if (this.#specs[q]?.required === true && frame.t - since > patience) missing = true;
    }
    this.#missing = missing
      ? this.#specs
          .filter((s, q) => s.required && !(this.#lastSeen[q] === frame.t))
          .map((s) => s.key)
      : [];
    return missing;
  }

  #unsettle(): void {
    this.#unrest();
    this.#creep.clear();
    this.#creeping = -1;
    this.#hunting = false;
  }

  /** The mean is not at rest; a swing about it may go on. */
  #unrest(): void {
    this.#still = false;
    this.#enter = 0;
    this.#leave = 0;
    this.#weighed = false;
    this.#departure = null;
    this.#stillness = null;
  }

  /** Counts the evidence for and against after an evaluation of the judge. */
  #weigh(suspect: boolean): void {
    const sure = this.#judge.confidence() >= ENTER && this.#judge.standby() >= STANDBY;
    this.#creeping = this.#findCreeping();
    const good = sure && this.#creeping < 0 && !suspect;
    this.#good = good;
    this.#stillness = null;
    if (this.#still) this.#weighStaying(good);
    else {
      this.#enter = good ? this.#enter + 1 : 0;
      if (this.#enter >= ENTER_TIMES && this.#watched() >= LEAST_WATCH_S) {
        this.#still = true;
        this.#leave = 0;
        this.#departure = null;
        this.#declare();
      }
    }
    let swing = 0;
    this.#judge.judgements.forEach((j, q) => {
      const tolerance = this.#specs[q]?.tolerance ?? 1;
      if (j.present && j.swing !== null) swing = Math.max(swing, j.swing.sine / tolerance);
    });
    this.#hunting = swing > (this.#hunting ? HUNTING_UNTIL : HUNTING_FROM);
    this.#weighed = true;
    this.#timeLeft = null;
    this.#asked = false;
  }

  /**
   * Weak evidence ends stillness. A mean that has crept away from the declared average does so only
   * where the evidence is no longer what was asked for at first: else the present average is as good
   * as the old one was, and is declared in its place.
   */
  #weighStaying(good: boolean): void {
    const weak =
      this.#judge.confidence() < LEAVE || this.#judge.stillStandby(this.#declared) < LEAVE_STANDBY;
    const departure = this.#departed();
    this.#leave = weak || departure !== null ? this.#leave + 1 : 0;
    if (this.#leave < (this.#hunting ? LEAVE_HUNTING_TIMES : LEAVE_TIMES)) return;
    if (departure !== null) this.#noteDeparture(departure);
    if (good && this.#creeping < 0) {
      this.#declare();
      return;
    }
    this.#unrest();
    if (!weak) this.#departure = departure;
  }

  #noteDeparture({ quantity, change }: Departed): void {
    const q = this.#specs.findIndex((spec) => spec.key === quantity);
    this.#creep.left(q, change, this.#now);
    this.#creeping = this.#findCreeping();
  }

  /** Index of a quantity that creeps by more than its tolerance over the horizon; -1 with none. */
  #findCreeping(): number {
    const share = LOOK_BACK_S / this.#horizon;
    return this.#judge.judgements.findIndex((j, q) =>
      this.#creep.goesOn(q, j.recent, share * (this.#specs[q]?.tolerance ?? 1)),
    );
  }

  /** Takes the present averages as those that are declared. */
  #declare(): void {
    this.#leave = 0;
    this.#declaredAt = this.#now;
    this.#judge.judgements.forEach((j, q) => {
      this.#declared[q] = j.value;
    });
  }

  /** The mean that has left its declared average by more than its tolerance, beyond doubt. */
  #departed(): Departed | null {
    let most: Departed | null = null;
    let furthest = 1;
    this.#judge.judgements.forEach((j, q) => {
      const spec = this.#specs[q];
      if (spec === undefined || !j.present) return;
      const { key: quantity, tolerance } = spec;
      // The latest minute: a long window would tell of it minutes later.
      const now = Number.isNaN(j.lately) ? j.value : j.lately;
      const change = now - (this.#declared[q] ?? NaN);
      const far = (Math.abs(change) - j.driftSd) / tolerance;
      if (!(far > furthest)) return;
      furthest = far;
      most = { code: 'departed', quantity, change, tolerance, declaredAt: this.#declaredAt };
    });
    return most;
  }

  #watched(): number {
    return this.#now - this.#runFrom;
  }

  #settleState(): void {
    if (this.#disturbance !== null) {
      const fresh = this.#now - this.#disturbance.at < DISTURBED_S;
      if (fresh || !this.#judge.ready()) {
        this.#enterState('disturbed', { code: 'step', ...this.#disturbance });
        return;
      }
      this.#disturbance = null;
    }
    const runTime = this.#watched();
    if (runTime < this.#minimum || !this.#judge.ready()) {
      const minimum = Math.max(this.#minimum, LEAST_WATCH_S);
      const early: Reason = { code: 'minimumRun', runTime, minimum, seenStart: this.#seenStart };
      const reason = this.#still || !this.#judge.ready() ? early : this.#unstill();
      this.#enterState(runTime < minimum ? 'starting' : 'moving', reason);
      return;
    }
    // Found still before the minimum run time was over, it must be so now as well.
    const rests = this.#still && (this.still() || this.#good);
    if (this.#hunting) this.#enterState('hunting', this.#reasons.swinging(rests), rests);
    else if (rests) this.#enterState('settled', (this.#stillness ??= this.#reasons.still()), true);
    else this.#enterState('moving', this.#unstill());
  }

  #unstill(): Reason {
    return this.#reasons.unstill(this.#creeping, this.#departure);
  }

  #enterState(state: SteadinessState, reason: Reason, rests = false): void {
    if (state !== this.#state) this.#since = this.#now;
    // Found still earlier, while the minimum run time was not over: what counts is the average now. That
    // a swing is named or gone is no new evidence about its mean.
    if (rests && !this.#rests) this.#declare();
    this.#rests = rests;
    this.#state = state;
    this.#reason = reason;
  }

  still(): boolean {
    return this.#rests;
  }

  glance(): SteadinessGlance {
    return {
      state: this.#state,
      since: this.#since,
      declaredAt: this.#rests ? this.#declaredAt : null,
      reason: this.#reason,
    };
  }

  view(): SteadinessView {
    const running = this.#runs && !Number.isNaN(this.#now);
    return {
      ...this.glance(),
      runTime: running ? this.#watched() : null,
      seenStart: this.#seenStart,
      timeLeft: running ? this.#withFloor() : null,
      motions: this.#specs.map((spec, q) => this.#motion(spec, q)),
      window: running ? this.#judge.window() : null,
    };
  }

  #askTimeLeft(): TimeLeft | null {
    if (this.#still || !this.#weighed) return null;
    if (!this.#asked) this.#timeLeft = this.#judge.timeLeft();
    this.#asked = true;
    return this.#timeLeft;
  }

  /** The minimum run time is part of the time left; what is still now may not be so then. */
  #withFloor(): TimeLeft | null {
    const floor = Math.max(0, this.#minimum - this.#watched());
    const left = this.#askTimeLeft();
    const later = (1 + FLOOR_DOUBT) * floor;
    if (this.#still && floor > 0) return { seconds: floor, from: floor, to: later };
    if (left === null) return null;
    return {
      seconds: Math.max(left.seconds, floor),
      from: Math.max(left.from, floor),
      to: Math.max(left.to, later),
    };
  }

  #motion(spec: QuantitySpec, q: number): QuantityMotion {
    const j = this.#judge.judgements[q];
    const { key, tolerance } = spec;
    if (j?.present !== true || !this.#runs) {
      return {
        key,
        tolerance,
        value: null,
        heading: null,
        headingU: null,
        drift: null,
        driftU: null,
        inside: false,
        swing: null,
      };
    }
    const known = Z95 * j.headingSd < 20 * tolerance;
    return {
      key,
      tolerance,
      value: finite(j.value),
      heading: known ? finite(j.heading) : null,
      headingU: known ? finite(Z95 * j.headingSd) : null,
      drift: finite(j.drift),
      driftU: finite(Z95 * j.driftSd),
      inside: j.probability >= ENTER,
      swing: j.swing === null ? null : { amplitude: j.swing.amplitude, period: j.swing.period },
    };
  }
}

function finite(x: number): number | null {
  return Number.isFinite(x) ? x : null;
}
