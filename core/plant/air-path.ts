import type { Room, Weather } from './air.ts';
import type { AirStream, Coil } from './coil.ts';
import type { Orders } from './control.ts';
import type { FaultLevels } from './faults.ts';
import { CP_AIR, airDensity } from './psychro.ts';
import type { UnitDesign } from './sizing.ts';

/** Lags of fan speed and of the supply-air probe's surroundings, s. */
const FAN_LAG = 3;
const MIXING_LAG = 6;

/** Air through both coils, the supply duct behind the indoor one, and its way back to the room. */
export class AirPath {
  readonly indoor: AirStream;
  readonly outdoor: AirStream;
  /** Supply air at the register side of the duct, K and kg/kg. */
  tSupply: number;
  wSupply: number;
  private tDuct: number;
  private readonly design: UnitDesign;
  private readonly room: Room;
  private readonly weather: Weather;

  constructor(design: UnitDesign, room: Room, weather: Weather) {
    const still = (): AirStream => ({
      t: 0,
      w: 0,
      tDew: 0,
      p: weather.p,
      flow: 0,
      share: 0,
      clean: 1,
    });
    this.design = design;
    this.room = room;
    this.weather = weather;
    this.indoor = still();
    this.outdoor = still();
    this.tDuct = room.t;
    this.tSupply = room.t;
    this.wSupply = room.w;
  }

  /** Airflows: fan against filter, coil and duct (quadratic losses, falling fan curve). */
  stepStreams(orders: Orders, faults: FaultLevels, indoor: Coil, outdoor: Coil, dt: number): void {
    const near = (now: number, aim: number): number =>
      now + (aim - now) * Math.min(1, dt / FAN_LAG);
    // Nominal losses add to 1: filter 0.25, coil 0.3, duct 0.45. Ice narrows the coil.
    const filter = 0.25 * (1 + 60 * faults.lowIndoorAir * faults.lowIndoorAir);
    const icedIn = 0.3 / Math.pow(1 - indoor.blocked, 3);
    const indoorAim = orders.indoorFan * Math.sqrt(1.8 / (0.8 + filter + icedIn + 0.45));
    const icedOut = 1 / Math.pow(1 - outdoor.blocked, 3);
    const outdoorAim =
      (orders.outdoorFan ? Math.sqrt(1.5 / (0.5 + icedOut)) : 0) /
      (1 + 1.1 * faults.fouledOutdoorCoil);
    const a = this.indoor;
    a.t = this.room.tReturn;
    a.w = this.room.w;
    a.tDew = this.room.tDew;
    a.share = near(a.share, indoorAim);
    a.flow = a.share * this.design.indoor.airflow_m3_s * airDensity(a.t, a.w, a.p);
    const o = this.outdoor;
    o.t = this.weather.t;
    o.w = this.weather.w;
    o.tDew = this.weather.tDew;
    o.share = near(o.share, outdoorAim);
    o.flow = o.share * this.design.outdoor.airflow_m3_s * airDensity(o.t, o.w, o.p);
    o.clean = 1 - 0.35 * faults.fouledOutdoorCoil;
  }

  /** Fan heat, duct metal, room. */
  stepBehind(t: number, indoor: Coil, orders: Orders, dt: number): void {
    const a = this.indoor;
    const nominal = this.design.indoor.airflow_m3_s;
    const k = nominal / 0.566;
    const fan = 380 * k * Math.pow(a.share, 3);
    const flow = Math.max(a.flow, 0.03 * nominal * 1.15);
    const capacity = flow * CP_AIR;
    const leaving = a.t + (fan - indoor.air.sensible) / capacity;
    const wLeaving = Math.max(a.w - indoor.air.water / flow, 1e-5);
    const effect = 1 - Math.exp((-300 * k) / capacity);
    const toDuct = capacity * effect * (leaving - this.tDuct);
    this.tDuct += (toDuct / (14_000 * k)) * dt;
    const aim = leaving - toDuct / capacity;
    this.tSupply += (aim - this.tSupply) * Math.min(1, dt / MIXING_LAG);
    this.wSupply += (wLeaving - this.wSupply) * Math.min(1, dt / MIXING_LAG);
    const moving = a.share > 0.02 ? 1 : 0;
    this.room.step(
      t,
      this.weather,
      capacity * (aim - a.t) * moving,
      indoor.air.water * moving,
      orders.door_m3_s,
      dt,
    );
  }
}
