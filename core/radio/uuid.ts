/** The tail of every UUID that the Bluetooth SIG assigned (Core Specification, Vol 3 Part B 2.5.1). */
const BASE_TAIL = '00001000800000805f9b34fb';

/**
 * One spelling for a UUID: four lower-case hex digits where the Bluetooth SIG assigned it, else
 * thirty-two. Accepts `2A6D`, `0x2A6D`, `2a6d` with dropped leading zeros, eight digits, and the
 * long form with or without hyphens. Null where the text is none of these.
 */
export function normaliseUuid(text: string): string | null {
  const hex = text.toLowerCase().replace(/^0x/, '').replaceAll('-', '');
  if (!/^[0-9a-f]{1,32}$/.test(hex)) return null;
  if (hex.length <= 4) return hex.padStart(4, '0');
  if (hex.length === 8) return hex.startsWith('0000') ? hex.slice(4) : hex + BASE_TAIL;
  if (hex.length !== 32) return null;
  return hex.endsWith(BASE_TAIL) && hex.startsWith('0000') ? hex.slice(4, 8) : hex;
}

/** The 16-bit UUIDs this program knows (Bluetooth SIG, Assigned Numbers). */
export const UUID = {
  genericAttribute: '1801',
  healthThermometer: '1809',
  deviceInformation: '180a',
  battery: '180f',
  environmentalSensing: '181a',
  weightScale: '181d',
  serviceChanged: '2a05',
  batteryLevel: '2a19',
  temperatureMeasurement: '2a1c',
  modelNumber: '2a24',
  serialNumber: '2a25',
  firmwareRevision: '2a26',
  hardwareRevision: '2a27',
  softwareRevision: '2a28',
  manufacturerName: '2a29',
  pressure: '2a6d',
  temperature: '2a6e',
  humidity: '2a6f',
  weight: '2a98',
  weightMeasurement: '2a9d',
  electricCurrent: '2aee',
  voltage: '2b18',
  userDescription: '2901',
  presentationFormat: '2904',
  validRange: '2906',
  esMeasurement: '290c',
  bthome: 'fcd2',
} as const;
