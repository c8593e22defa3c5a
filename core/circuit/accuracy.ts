import type { ChannelKey } from '../stream/channels.ts';
import { channelRow } from '../stream/channels.ts';
import { PASCAL_PER_PSI } from '../units/pressure.ts';
import { differenceFromFahrenheit } from '../units/temperature.ts';
import type { Atmosphere } from '../engine-types.ts';
import type { Accuracy } from './types.ts';

/**
 * Accuracy assumed where the user states none; a reading that uses one is marked.
 *
 * Suction and liquid pressure, pipe and air temperatures: what the California residential charge
 * procedure asks of instruments (Title 24 Reference Appendix RA3.2.2, 2013: digital gauges
 * ±3.5 psi suction, ±7.0 psi liquid; thermometers ±1.8 °F, the latter from memory). The others
 * are our own cautious choices.
 */
export function defaultAccuracy(channel: ChannelKey): Accuracy {
  switch (channel) {
    case 'suctionPressure':
      return { absolute: 3.5 * PASCAL_PER_PSI };
    case 'liquidPressure':
    case 'dischargePressure':
    case 'testPressure':
      return { absolute: 7 * PASCAL_PER_PSI };
    case 'barometricPressure':
      return { absolute: 300 };
    case 'returnAirHumidity':
      return { absolute: 0.05 };
    case 'compressorCurrent':
    case 'lineVoltage':
      return { ofReading: 0.03 };
    case 'vacuum':
      return { ofReading: 0.1 };
    case 'scaleWeight':
      return { absolute: 0.015 };
    default:
      return { absolute: differenceFromFahrenheit(1.8) };
  }
}

/**
 * Half-width (95 %) of a sensor's error at a value, SI. Its parts are added in quadrature.
 *
 * @param value the channel's value in SI
 * @param zero what the sensor counts its reading from, SI: the atmosphere for gauge sensors
 */
export function halfWidth(accuracy: Accuracy, value: number, zero: number): number {
  const ofReading = (accuracy.ofReading ?? 0) * (value - zero);
  const scale = accuracy.ofFullScale;
  const ofFullScale = scale === undefined ? 0 : scale.fraction * scale.fullScale;
  return Math.hypot(ofReading, ofFullScale, accuracy.absolute ?? 0);
}

/**
 * Half-width (95 %) of the atmosphere in Pa: weather moves it by some 2 kPa about the value of the
 * altitude; with no altitude known, sites up to some 300 m are covered by 5 kPa. Our own choices.
 */
export function atmosphereHalfWidth(kind: Atmosphere['kind']): number {
  switch (kind) {
    case 'measured':
      return 300;
    case 'altitude':
      return 2000;
    case 'assumed':
      return 5000;
  }
}

/** Whether a channel's relative accuracy refers to pressure above the atmosphere. */
export function isPressure(channel: ChannelKey): boolean {
  return channelRow(channel).quantity === 'pressure';
}
