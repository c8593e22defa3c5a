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

/** The true value a channel of a split system would show, SI; 0 for channels it does not have. */
export function channelValue(u: UnitPlant, channel: ChannelKey): number {
  const p = u.weather.p;
  switch (channel) {
    case 'suctionPressure':
      return suctionPort(u);
    case 'liquidPressure':
      return liquidPort(u);
    case 'dischargePressure':
      return dischargePort(u);
    case 'suctionLineTemp':
      return u.tSuctionPipe;
    case 'liquidLineTemp':
    case 'drierInletTemp':
      return u.tLiquid;
    case 'drierOutletTemp':
      return drierOutlet(u);
    case 'dischargeLineTemp':
      return u.tDischarge;
    case 'outdoorAirTemp':
      return u.weather.t;
    case 'returnAirTemp':
      return u.room.tReturn;
    case 'returnAirWetBulb':
      return wetBulb(u.room.tReturn, u.room.w, p);
    case 'returnAirHumidity':
      return relativeHumidity(u.room.tReturn, u.room.w, p);
    case 'supplyAirTemp':
      return u.tSupply;
    case 'supplyAirWetBulb':
      return wetBulb(u.tSupply, u.wSupply, p);
    case 'compressorCurrent':
      return compressorCurrent(u);
    case 'lineVoltage':
      return u.control.orders.powered ? u.spec.voltage_V - 0.12 * compressorCurrent(u) : 0;
    case 'scaleWeight':
      return -u.charged;
    case 'barometricPressure':
      return p;
    case 'vacuum':
    case 'testPressure':
      return 0;
  }
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
