import type { ChannelKey } from '../stream/channels.ts';
import {
  compressorCurrent,
  dischargePort,
  drierOutlet,
  liquidPort,
  suctionPort,
} from './observe.ts';
import { relativeHumidity, wetBulb } from './psychro.ts';
import type { HoldTruth } from './truth.ts';
import type { UnitPlant } from './unit.ts';

const READINGS: Readonly<Record<ChannelKey, (u: UnitPlant) => number>> = {
  suctionPressure: suctionPort,
  liquidPressure: liquidPort,
  dischargePressure: dischargePort,
  suctionLineTemp: (u) => u.pipe.t,
  liquidLineTemp: (u) => u.line.t,
  dischargeLineTemp: (u) => u.body.tDischarge,
  outdoorAirTemp: (u) => u.weather.t,
  returnAirTemp: (u) => u.room.tReturn,
  returnAirWetBulb: (u) => wetBulb(u.room.tReturn, u.room.w, u.weather.p),
  returnAirHumidity: (u) => relativeHumidity(u.room.tReturn, u.room.w, u.weather.p),
  supplyAirTemp: (u) => u.air.tSupply,
  supplyAirWetBulb: (u) => wetBulb(u.air.tSupply, u.air.wSupply, u.weather.p),
  drierInletTemp: (u) => u.line.t,
  drierOutletTemp: drierOutlet,
  compressorCurrent,
  lineVoltage: (u) =>
    u.control.orders.powered ? u.spec.voltage_V - 0.12 * compressorCurrent(u) : 0,
  scaleWeight: (u) => -u.charged,
  barometricPressure: (u) => u.weather.p,
  // A gauge at the port reads the circuit's pressure, whichever gauge it is.
  vacuum: suctionPort,
  testPressure: suctionPort,
};

/** The true value a channel of a split system shows, SI. */
export function channelValue(u: UnitPlant, channel: ChannelKey): number {
  return READINGS[channel](u);
}

/** The air around a sensor: what it reads when its clamp has fallen off, K. */
export function airAround(u: UnitPlant, channel: ChannelKey): number {
  return channel === 'supplyAirTemp' || channel === 'returnAirTemp' ? u.room.t : u.weather.t;
}

/** The true value of a channel in a hold. */
export function holdValue(h: HoldTruth, channel: ChannelKey, atmosphere: number): number {
  switch (channel) {
    case 'testPressure':
    case 'vacuum':
      return h.pressure;
    case 'outdoorAirTemp':
    case 'returnAirTemp':
      return h.tSurroundings;
    case 'barometricPressure':
      return atmosphere;
    default:
      return 0;
  }
}
