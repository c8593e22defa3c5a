import { normaliseUuid, UUID } from '../../core/radio/uuid.ts';
import { within } from './deadline.ts';
import type {
  Noble,
  NobleCharacteristic,
  NoblePeripheral,
  NobleService,
  RawCharacteristic,
  RawService,
} from './noble-types.ts';

/** One characteristic of a sensor's table, with the object to speak to it. */
export interface TableEntry {
  readonly service: string;
  readonly characteristic: string;
  readonly instance: number;
  readonly notifies: boolean;
  readonly reads: boolean;
  readonly descriptors: Readonly<Record<string, string>>;
  readonly device: NobleCharacteristic;
}

const STEP_MS = 6000;
/** More than any sensor has; a table without end is a fault or an attack. */
const MOST_SERVICES = 32;
const MOST_ENTRIES = 200;
const DESCRIPTORS: readonly string[] = [
  UUID.userDescription,
  UUID.presentationFormat,
  UUID.validRange,
  UUID.esMeasurement,
];

const FLAG_READ = 0x02;
const FLAGS_NOTIFY = 0x10 | 0x20;

/**
 * Reads a connected sensor's attribute table.
 *
 * noble files services and characteristics under their UUID, so of several instances (an
 * Environmental Sensing service with two pressures) only the last would remain. Where its bindings
 * tell attribute handles, every instance is filed again under a name of its own, UUID and handle,
 * through `addServices` and `addCharacteristics`, which noble offers for cached tables. Where they do
 * not (macOS, Windows) one instance of each UUID is all that can be reached.
 *
 * @param wants which characteristics matter; the others are not looked into
 * @throws RadioTimeout where the sensor stops answering
 */
export async function readTable(
  noble: Noble,
  peripheral: NoblePeripheral,
  wants: (service: string, characteristic: string) => boolean,
  signal: AbortSignal,
): Promise<TableEntry[]> {
  const entries: TableEntry[] = [];
  const counted = new Map<string, number>();
  for (const service of await readServices(noble, peripheral, signal)) {
    const serviceUuid = plainUuid(service.uuid);
    if (serviceUuid === null) continue;
    for (const device of await readCharacteristics(noble, peripheral, service, signal)) {
      const characteristic = plainUuid(device.uuid);
      if (characteristic === null || !wants(serviceUuid, characteristic)) continue;
      const key = `${serviceUuid}/${characteristic}`;
      const instance = (counted.get(key) ?? 0) + 1;
      counted.set(key, instance);
      if (entries.length >= MOST_ENTRIES) return entries;
      entries.push({
        service: serviceUuid,
        characteristic,
        instance,
        notifies: can(device, FLAGS_NOTIFY, ['notify', 'indicate']),
        reads: can(device, FLAG_READ, ['read']),
        descriptors: await readDescriptors(device, signal),
        device,
      });
    }
  }
  return entries;
}

async function readServices(
  noble: Noble,
  peripheral: NoblePeripheral,
  signal: AbortSignal,
): Promise<readonly NobleService[]> {
  let raw: readonly RawService[] | null = null;
  const onRaw = (_peripheral: NoblePeripheral, services: readonly RawService[]) => {
    raw = services;
  };
  peripheral.once('servicesDiscovered', onRaw);
  const found = await within(peripheral.discoverServicesAsync([]), STEP_MS, 'services', signal);
  peripheral.removeListener('servicesDiscovered', onRaw);
  const handled = withHandles(raw, (s: RawService) => s.startHandle);
  if (handled === null || noble.addServices === undefined) return found.slice(0, MOST_SERVICES);
  return noble.addServices(peripheral.id, handled.slice(0, MOST_SERVICES));
}

async function readCharacteristics(
  noble: Noble,
  peripheral: NoblePeripheral,
  service: NobleService,
  signal: AbortSignal,
): Promise<readonly NobleCharacteristic[]> {
  let raw: readonly RawCharacteristic[] | null = null;
  const onRaw = (characteristics: readonly RawCharacteristic[]) => {
    raw = characteristics;
  };
  service.once('characteristicsDiscovered', onRaw);
  const found = await within(
    service.discoverCharacteristicsAsync([]),
    STEP_MS,
    'characteristics',
    signal,
  );
  service.removeListener('characteristicsDiscovered', onRaw);
  const handled = withHandles(raw, (c: RawCharacteristic) => c.valueHandle);
  if (handled === null || noble.addCharacteristics === undefined) return found;
  return noble.addCharacteristics(peripheral.id, service.uuid, handled) ?? found;
}

/** The same items, filed under UUID and handle; null where the bindings know no handles. */
function withHandles<T extends { readonly uuid: string }>(
  raw: readonly T[] | null,
  handleOf: (item: T) => number | undefined,
): T[] | null {
  if (raw === null || raw.some((item) => !Number.isInteger(handleOf(item)))) return null;
  return raw.map((item) => ({ ...item, uuid: `${item.uuid}@${handleOf(item)}` }));
}

/** The UUID without the handle it was filed under, in our spelling. */
function plainUuid(filed: string): string | null {
  return normaliseUuid(filed.split('@')[0] ?? '');
}

function can(device: NobleCharacteristic, flags: number, names: readonly string[]): boolean {
  return typeof device.properties === 'number'
    ? (device.properties & flags) !== 0
    : device.properties.some((name) => names.includes(name));
}

async function readDescriptors(
  device: NobleCharacteristic,
  signal: AbortSignal,
): Promise<Record<string, string>> {
  const values: Record<string, string> = {};
  const found = await within(device.discoverDescriptorsAsync(), STEP_MS, 'descriptors', signal);
  for (const descriptor of found) {
    const uuid = normaliseUuid(descriptor.uuid);
    if (uuid === null || !DESCRIPTORS.includes(uuid)) continue;
    const data = await within(descriptor.readValueAsync(), STEP_MS, 'descriptor', signal);
    // noble gives an empty value where the sensor refused the read.
    if (data.length > 0 && data.length <= 512) values[uuid] = data.toString('hex');
  }
  return values;
}
