import type { FaultLevels } from './faults.ts';
import { Random } from './random.ts';
import type { EventSpec, UnitSpec } from './scenario.ts';

/** What the controls ask for at one moment. */
export interface Orders {
  compressor: boolean;
  /** Indoor fan speed as a share of nominal; outdoor fan on. */
  indoorFan: number;
  outdoorFan: boolean;
  /** The indoor coil condenses. */
  heating: boolean;
  defrosting: boolean;
  door_m3_s: number;
  /** Refrigerant flowing in through the port, kg/s. */
  charging_kg_s: number;
  powered: boolean;
}

/** What the controls watch. */
export interface Watched {
  readonly suctionPressure: number;
  readonly dischargePressure: number;
  /** Wall temperature of the coil that may ice, K, and its ice, kg. */
  readonly tOutdoorCoil: number;
  readonly frostIndoor: number;
}

/** A flow that goes on until a time. */
interface Spell {
  readonly until: number;
  readonly rate: number;
}

function sum(spells: readonly Spell[], t: number): number {
  let total = 0;
  for (const s of spells) if (t < s.until) total += s.rate;
  return total;
}

/** The indoor fan runs on after a stop, s. */
const FAN_DELAY = 45;
const RETRY_AFTER = 180;
/**
 * How long low pressure is borne, s. Heat pumps bear a start in deep cold for minutes before the switch
 * counts (common practice, no source).
 */
const LOW_PRESSURE_DELAY = { cooling: 60, heating: 180 } as const;

/**
 * Thermostat calls (the scenario's events), safety switches, defrost and the fault of a contactor
 * that drops out. The low-pressure switch acts after a minute (heating: three), the high-pressure switch at once;
 * both let the unit try again after three minutes.
 */
export class Control {
  readonly orders: Orders;
  private readonly spec: UnitSpec;
  private readonly events: readonly EventSpec[];
  private readonly random: Random;
  private readonly lowCut: number;
  private readonly highCut: number;
  private next = 0;
  private called = false;
  private fanSpeed = 1;
  private powerBackAt = Number.NEGATIVE_INFINITY;
  private stoppedAt = -1e9;
  private lockedUntil = Number.NEGATIVE_INFINITY;
  private lowFor = 0;
  private dropAt = Number.POSITIVE_INFINITY;
  private dropUntil = Number.NEGATIVE_INFINITY;
  private coldFor = 0;
  private defrostFrom: number | null = null;
  private readonly doors: Spell[] = [];
  private readonly charges: Spell[] = [];

  constructor(spec: UnitSpec, seed: number, unit: string, lowCut_Pa: number, highCut_Pa: number) {
    this.spec = spec;
    this.events = [...spec.events].sort((a, b) => a.at_s - b.at_s);
    this.random = Random.named(seed, `contactor ${unit}`);
    this.lowCut = lowCut_Pa;
    this.highCut = highCut_Pa;
    this.orders = {
      compressor: false,
      indoorFan: 0,
      outdoorFan: false,
      heating: spec.mode === 'heating',
      defrosting: false,
      door_m3_s: 0,
      charging_kg_s: 0,
      powered: true,
    };
  }

  /** Calls for running from now on, as a start event would. */
  call(on: boolean): void {
    this.called = on;
  }

  step(t: number, dt: number, watched: Watched, faults: FaultLevels): void {
    for (let e = this.events[this.next]; e !== undefined && e.at_s <= t;) {
      this.take(e, t);
      this.next += 1;
      e = this.events[this.next];
    }
    const o = this.orders;
    o.powered = t >= this.powerBackAt;
    this.guard(t, dt, watched);
    const dropped = this.contactorDropped(t, faults.shortCycling);
    this.stepDefrost(t, dt, watched, o.powered && this.called);
    const resting = o.defrosting && this.spec.mode === 'cooling';
    const mayRun = o.powered && t >= this.lockedUntil;
    const was = o.compressor;
    o.compressor = this.called && mayRun && !dropped && !resting;
    if (was && !o.compressor) this.stoppedAt = t;
    const fanOn = this.called || t - this.stoppedAt < FAN_DELAY || resting;
    o.indoorFan = fanOn && o.powered ? this.fanSpeed : 0;
    o.heating = this.spec.mode === 'heating' && !o.defrosting;
    o.outdoorFan = o.compressor && !o.defrosting;
    o.door_m3_s = sum(this.doors, t);
    o.charging_kg_s = sum(this.charges, t);
  }

  private take(e: EventSpec, t: number): void {
    switch (e.do) {
      case 'start':
        this.called = true;
        break;
      case 'stop':
        this.called = false;
        break;
      case 'powerCut':
        this.powerBackAt = t + e.for_s;
        break;
      case 'door':
        this.doors.push({ until: t + e.for_s, rate: e.flow_m3_s });
        break;
      case 'fanSpeed':
        this.fanSpeed = e.speed;
        break;
      case 'charge': {
        const over = Math.max(e.over_s, 1);
        this.charges.push({ until: t + over, rate: e.mass_kg / over });
        break;
      }
      case 'defrost':
        this.defrostFrom = t;
        break;
    }
  }

  private guard(t: number, dt: number, w: Watched): void {
    if (!this.orders.compressor) {
      this.lowFor = 0;
      return;
    }
    this.lowFor = w.suctionPressure < this.lowCut ? this.lowFor + dt : 0;
    if (w.dischargePressure > this.highCut || this.lowFor > LOW_PRESSURE_DELAY[this.spec.mode]) {
      this.lockedUntil = t + RETRY_AFTER;
    }
  }

  /** The worse the fault, the shorter the runs: from about ten minutes down to one. */
  private contactorDropped(t: number, severity: number): boolean {
    if (severity <= 0) {
      this.dropAt = Number.POSITIVE_INFINITY;
      return t < this.dropUntil;
    }
    if (!this.called) {
      this.dropAt = Number.POSITIVE_INFINITY;
      return false;
    }
    if (this.dropAt === Number.POSITIVE_INFINITY) this.dropAt = t + this.runLength(severity);
    if (t >= this.dropAt) {
      this.dropUntil = t + 25 + this.random.exponential(25);
      this.dropAt = this.dropUntil + this.runLength(severity);
    }
    return t < this.dropUntil;
  }

  private runLength(severity: number): number {
    const mean = 600 * Math.pow(0.1, severity);
    return mean * (0.5 + this.random.uniform());
  }

  private stepDefrost(t: number, dt: number, w: Watched, called: boolean): void {
    const o = this.orders;
    const d = this.spec.defrost;
    const heating = this.spec.mode === 'heating';
    if (heating && o.compressor && !o.defrosting && w.tOutdoorCoil < 272) this.coldFor += dt;
    if (heating && this.coldFor > d.every_s && called) this.defrostFrom ??= t;
    if (this.defrostFrom === null) return;
    const lasted = t - this.defrostFrom;
    const clear = heating
      ? w.tOutdoorCoil > d.endsAt_K || lasted > d.atMost_s
      : w.frostIndoor < 1e-4 && lasted > 30;
    if (clear) {
      this.defrostFrom = null;
      this.coldFor = 0;
      o.defrosting = false;
    } else {
      o.defrosting = true;
    }
  }
}
