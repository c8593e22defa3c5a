import type { Course, RoomSpec, WeatherSpec } from './scenario.ts';
import { CP_AIR, airDensity, dewPoint, humidityRatio, saturatedHumidityRatio } from './psychro.ts';
import { Random } from './random.ts';

/** Value of a course at a time: straight lines between points, held at the ends. */
export function courseAt(course: Course, t: number): number {
  if (typeof course === 'number') return course;
  let before = course[0];
  for (const point of course) {
    if (point[0] >= t) {
      if (before === undefined || point === before || point[0] === before[0]) return point[1];
      return before[1] + ((point[1] - before[1]) * (t - before[0])) / (point[0] - before[0]);
    }
    before = point;
  }
  return before?.[1] ?? 0;
}

/** Random wandering with a standard deviation and a correlation time (Ornstein-Uhlenbeck, exact step). */
export class Wander {
  value = 0;
  private readonly keep: number;
  private readonly kick: number;
  private readonly random: Random;

  constructor(random: Random, sigma: number, time_s: number, dt: number) {
    this.random = random;
    this.keep = Math.exp(-dt / time_s);
    this.kick = sigma * Math.sqrt(1 - this.keep * this.keep);
    this.value = sigma > 0 ? sigma * random.normal() : 0;
  }

  step(): void {
    if (this.kick > 0) this.value = this.keep * this.value + this.kick * this.random.normal();
  }
}

/** Outdoor air at the site. */
export class Weather {
  t = 0;
  w = 0;
  tDew = 0;
  readonly p: number;
  private readonly spec: WeatherSpec;
  private readonly gust: Wander;
  private countdown = 0;

  constructor(spec: WeatherSpec, p: number, seed: number, dt: number) {
    this.spec = spec;
    this.p = p;
    this.gust = new Wander(Random.named(seed, 'gust'), spec.gust.sigma_K, spec.gust.time_s, dt);
    this.step(0);
  }

  step(t: number): void {
    this.gust.step();
    const calm = courseAt(this.spec.outdoorAir_K, t);
    this.t = calm + this.gust.value;
    if (this.countdown <= 0) {
      this.w = humidityRatio(calm, courseAt(this.spec.outdoorHumidity, t), this.p);
      this.tDew = dewPoint(this.w, this.p);
      this.countdown = 50;
    }
    this.countdown -= 1;
  }
}

/** The conditioned room: air with what follows it quickly, masses behind it, moisture. */
export class Room {
  t: number;
  w: number;
  /** Return air as the unit draws it: room air with draughts. */
  tReturn: number;
  tDew = 0;
  private tMass: number;
  private readonly spec: RoomSpec;
  private readonly p: number;
  private readonly draught: Wander;
  private readonly air_kg: number;
  private countdown = 0;

  constructor(spec: RoomSpec, p: number, seed: number, unit: string, dt: number) {
    this.spec = spec;
    this.p = p;
    this.t = spec.start_K;
    this.tMass = spec.start_K;
    this.w = humidityRatio(spec.start_K, spec.startHumidity, p);
    this.draught = new Wander(
      Random.named(seed, `draught ${unit}`),
      spec.draught.sigma_K,
      spec.draught.time_s,
      dt,
    );
    this.tReturn = this.t + this.draught.value;
    // Room air behind the quick capacity: a third of it is the air itself, the rest surfaces.
    this.air_kg = spec.airCapacity_J_K / 3 / CP_AIR;
    this.tDew = dewPoint(this.w, p);
  }

  /**
   * @param heat_W sensible heat the unit brings (negative when cooling)
   * @param water_kg_s moisture the unit takes out
   * @param door_m3_s outdoor air through an open door
   */
  step(
    t: number,
    outdoor: Weather,
    heat_W: number,
    water_kg_s: number,
    door_m3_s: number,
    dt: number,
  ): void {
    const s = this.spec;
    this.draught.step();
    const entering = (s.infiltration_m3_s + door_m3_s) * airDensity(outdoor.t, outdoor.w, this.p);
    const toMass = s.massCoupling_W_K * (this.tMass - this.t);
    const balance =
      heat_W + courseAt(s.gain_W, t) + toMass + entering * CP_AIR * (outdoor.t - this.t);
    this.t += (balance / s.airCapacity_J_K) * dt;
    const toOutdoors = s.outdoorCoupling_W_K * (outdoor.t - this.tMass);
    this.tMass += ((toOutdoors - toMass) / s.massCapacity_J_K) * dt;
    // Furnishings hold several times the moisture of the air.
    const moisture =
      courseAt(s.moistureGain_kg_s, t) - water_kg_s + entering * (outdoor.w - this.w);
    this.w = Math.max(this.w + (moisture / (4 * this.air_kg)) * dt, 5e-4);
    this.w = Math.min(this.w, saturatedHumidityRatio(this.t, this.p));
    // A door near the return grille is felt there before the room has mixed.
    const near = door_m3_s > 0 ? Math.min(0.12, door_m3_s * 0.15) : 0;
    const aim = this.t + near * (outdoor.t - this.t);
    this.tReturn += (aim + this.draught.value - this.tReturn) * Math.min(1, dt / 8);
    if (this.countdown <= 0) {
      this.tDew = dewPoint(this.w, this.p);
      this.countdown = 10;
    }
    this.countdown -= 1;
  }

  /** Holds the room at given conditions (rating point). */
  pin(t: number, w: number): void {
    this.t = t;
    this.tMass = t;
    this.tReturn = t;
    this.w = w;
    this.tDew = dewPoint(w, this.p);
  }
}
