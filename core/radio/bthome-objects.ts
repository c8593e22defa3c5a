import { KILOGRAM_PER_POUND } from '../units/mass.ts';
import type { Quantity } from '../units/symbols.ts';

/** How one BTHome object is laid out. Numbers are little-endian. */
export interface BthomeObject {
  readonly name: string;
  /** Bytes of data; null where the byte after the id gives the length (text, raw). */
  readonly length: number | null;
  readonly signed?: boolean;
  /** Value in the object's unit = raw * factor. Given only for what we use. */
  readonly factor?: number;
  /** Present where the program can use the value; SI = value * scale + offset. */
  readonly quantity?: Quantity;
  readonly scale?: number;
  readonly offset?: number;
}

const flag = (name: string): BthomeObject => ({ name, length: 1 });
const skip = (name: string, length: number | null): BthomeObject => ({ name, length });
const celsius = (length: 1 | 2, factor: number): BthomeObject => ({
  name: 'temperature',
  length,
  signed: true,
  factor,
  quantity: 'temperature',
  offset: 273.15,
});

/**
 * The objects of BTHome v2, from the open format's page (https://bthome.io/format) as far as it
 * could be seen and otherwise from memory. What is not a quantity of ours is listed with its length
 * only, so that the objects after it can still be found. Object ids that are not listed end the
 * reading of a packet: their length is not known.
 */
export const BTHOME_OBJECTS: Readonly<Record<number, BthomeObject>> = {
  0x00: skip('packet id', 1),
  0x01: skip('battery', 1),
  0x02: celsius(2, 0.01),
  0x03: { name: 'humidity', length: 2, factor: 0.01, quantity: 'humidity', scale: 0.01 },
  0x04: { name: 'pressure', length: 3, factor: 0.01, quantity: 'pressure', scale: 100 },
  0x05: skip('illuminance', 3),
  0x06: { name: 'mass', length: 2, factor: 0.01, quantity: 'mass' },
  0x07: { name: 'mass', length: 2, factor: 0.01, quantity: 'mass', scale: KILOGRAM_PER_POUND },
  0x08: skip('dew point', 2),
  0x09: skip('count', 1),
  0x0a: skip('energy', 3),
  0x0b: skip('power', 3),
  0x0c: { name: 'voltage', length: 2, factor: 0.001, quantity: 'voltage' },
  0x0d: skip('pm2.5', 2),
  0x0e: skip('pm10', 2),
  0x0f: flag('generic'),
  0x10: flag('power on'),
  0x11: flag('opening'),
  0x12: skip('co2', 2),
  0x13: skip('tvoc', 2),
  0x14: skip('moisture', 2),
  0x15: flag('battery low'),
  0x16: flag('battery charging'),
  0x17: flag('carbon monoxide'),
  0x18: flag('cold'),
  0x19: flag('connectivity'),
  0x1a: flag('door'),
  0x1b: flag('garage door'),
  0x1c: flag('gas'),
  0x1d: flag('heat'),
  0x1e: flag('light'),
  0x1f: flag('lock'),
  0x20: flag('moisture'),
  0x21: flag('motion'),
  0x22: flag('moving'),
  0x23: flag('occupancy'),
  0x24: flag('plug'),
  0x25: flag('presence'),
  0x26: flag('problem'),
  0x27: flag('running'),
  0x28: flag('safety'),
  0x29: flag('smoke'),
  0x2a: flag('sound'),
  0x2b: flag('tamper'),
  0x2c: flag('vibration'),
  0x2d: flag('window'),
  0x2e: { name: 'humidity', length: 1, factor: 1, quantity: 'humidity', scale: 0.01 },
  0x2f: skip('moisture', 1),
  0x3a: skip('button', 1),
  0x3c: skip('dimmer', 2),
  0x3d: skip('count', 2),
  0x3e: skip('count', 4),
  0x3f: skip('rotation', 2),
  0x40: skip('distance', 2),
  0x41: skip('distance', 2),
  0x42: skip('duration', 3),
  0x43: { name: 'current', length: 2, factor: 0.001, quantity: 'current' },
  0x44: skip('speed', 2),
  0x45: celsius(2, 0.1),
  0x46: skip('UV index', 1),
  0x47: skip('volume', 2),
  0x48: skip('volume', 2),
  0x49: skip('volume flow rate', 2),
  0x4a: { name: 'voltage', length: 2, factor: 0.1, quantity: 'voltage' },
  0x4b: skip('gas', 3),
  0x4c: skip('gas', 4),
  0x4d: skip('energy', 4),
  0x4e: skip('volume', 4),
  0x4f: skip('water', 4),
  0x50: skip('timestamp', 4),
  0x51: skip('acceleration', 2),
  0x52: skip('gyroscope', 2),
  0x53: skip('text', null),
  0x54: skip('raw', null),
  0x55: skip('volume storage', 4),
  0x56: skip('conductivity', 2),
  0x57: celsius(1, 1),
  0x58: celsius(1, 0.35),
  0x59: skip('count', 1),
  0x5a: skip('count', 2),
  0x5b: skip('count', 4),
  0x5c: skip('power', 4),
  0x5d: { name: 'current', length: 2, signed: true, factor: 0.001, quantity: 'current' },
  0x5e: skip('direction', 2),
  0x5f: skip('precipitation', 2),
  0x60: skip('channel', 1),
  0x61: skip('rotational speed', 2),
  0x62: skip('speed', 4),
  0x63: skip('acceleration', 4),
  0x64: skip('light level', 1),
  0xf0: skip('device type', 2),
  0xf1: skip('firmware version', 4),
  0xf2: skip('firmware version', 3),
};
