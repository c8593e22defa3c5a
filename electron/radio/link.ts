import { standardCharacteristic } from '../../core/radio/standard.ts';
import { UUID } from '../../core/radio/uuid.ts';
import { errorText } from '../error-text.ts';
import { pause, RadioTimeout, within } from './deadline.ts';
import { readTable, type TableEntry } from './gatt-table.ts';
import type { FoundCharacteristic, Follow, Notice } from './messages.ts';
import type { Noble, NoblePeripheral } from './noble-types.ts';

const SUBSCRIBE_MS = 4000;
const READ_MS = 4000;
const TICK_MS = 100;
const RSSI_EVERY_S = 10;
const BATTERY_EVERY_S = 60;
/** Ask for the first value when a subscription has brought none for this long. */
const FIRST_VALUE_S = 2;
/** Ask when a subscription falls silent for this long, or for three of its own intervals. */
const SILENT_S = 10;
const SILENT_INTERVALS = 3;
/** Refused reads after which a characteristic is left alone. */
const REFUSALS = 3;
/** Unanswered reads after which the link is given up. */
const TIMEOUTS = 2;

/** Characteristics read once, at discovery. */
const TEXTS: readonly string[] = [
  UUID.manufacturerName,
  UUID.modelNumber,
  UUID.serialNumber,
  UUID.firmwareRevision,
  UUID.hardwareRevision,
  UUID.softwareRevision,
];

/** What a link needs of the process around it. */
export interface LinkContext {
  readonly noble: Noble;
  readonly now: () => number;
  readonly tell: (notice: Notice) => void;
  /** Whether the adapter can tell a link's signal strength; set to false at the first failure. */
  readonly rssi: { works: boolean };
}

interface Followed {
  readonly entry: TableEntry;
  readonly period_s: number | null;
  subscribed: boolean;
  /** When a value last arrived or was asked for. */
  last: number;
  interval: number;
  values: number;
  refusals: number;
}

/**
 * Follows one connected sensor until the signal ends it or it fails: reads its table, subscribes
 * where the sensor can send and asks where it cannot, where it is told to ask, or where a
 * subscription falls silent (a sensor may notify on change only).
 *
 * @returns why it ended
 */
export async function followSensor(
  context: LinkContext,
  peripheral: NoblePeripheral,
  follow: readonly Follow[],
  signal: AbortSignal,
): Promise<string> {
  try {
    const table = await readTable(context.noble, peripheral, wanted(follow), signal);
    context.tell({
      type: 'table',
      id: peripheral.id,
      characteristics: await describeTable(table, signal),
    });
    return await run(context, peripheral, table, follow, signal);
  } catch (error) {
    if (error instanceof RadioTimeout) return error.message;
    return `noble: ${errorText(error)}`;
  }
}

function wanted(follow: readonly Follow[]) {
  return (service: string, characteristic: string): boolean =>
    standardCharacteristic(characteristic) !== null ||
    characteristic === UUID.batteryLevel ||
    characteristic === UUID.serviceChanged ||
    TEXTS.includes(characteristic) ||
    follow.some((f) => f.service === service && f.characteristic === characteristic);
}

async function describeTable(
  table: readonly TableEntry[],
  signal: AbortSignal,
): Promise<FoundCharacteristic[]> {
  const found: FoundCharacteristic[] = [];
  for (const { service, characteristic, instance, notifies, reads, descriptors, device } of table) {
    const data =
      TEXTS.includes(characteristic) && reads
        ? await within(device.readAsync(), READ_MS, 'text', signal)
        : null;
    const value = data !== null && data.length > 0 ? data.subarray(0, 512).toString('hex') : null;
    found.push({ service, characteristic, instance, notifies, reads, descriptors, value });
  }
  return found;
}

async function run(
  context: LinkContext,
  peripheral: NoblePeripheral,
  table: readonly TableEntry[],
  follow: readonly Follow[],
  signal: AbortSignal,
): Promise<string> {
  const ended = new AbortController();
  const stop = AbortSignal.any([signal, ended.signal]);
  const followed: Followed[] = [];
  for (const entry of table) {
    if (TEXTS.includes(entry.characteristic)) continue;
    if (entry.characteristic === UUID.serviceChanged) {
      // The table is no longer what was read: start over with a fresh one.
      await subscribe(entry, () => ended.abort('the sensor changed its table'), stop);
      continue;
    }
    followed.push(await startFollowing(context, peripheral, entry, follow, stop));
  }
  let timeouts = 0;
  let rssiAt = context.now();
  while (!stop.aborted) {
    const now = context.now();
    const due = followed.find((f) => isDue(f, now));
    if (due !== undefined) {
      timeouts = (await ask(context, peripheral, due, stop)) ? 0 : timeouts + 1;
      if (timeouts >= TIMEOUTS) return 'the sensor stopped answering';
    } else if (context.rssi.works && now - rssiAt >= RSSI_EVERY_S) {
      rssiAt = now;
      await tellRssi(context, peripheral, stop);
    } else {
      await pause(TICK_MS, stop);
    }
  }
  return ended.signal.aborted ? String(ended.signal.reason) : 'the link was lost';
}

async function startFollowing(
  context: LinkContext,
  peripheral: NoblePeripheral,
  entry: TableEntry,
  follow: readonly Follow[],
  stop: AbortSignal,
): Promise<Followed> {
  const asked = follow.find(
    (f) =>
      f.service === entry.service &&
      f.characteristic === entry.characteristic &&
      f.instance === entry.instance,
  );
  const isBattery = entry.characteristic === UUID.batteryLevel;
  const followed: Followed = {
    entry,
    period_s: isBattery ? BATTERY_EVERY_S : (asked?.pollPeriod ?? 1),
    subscribed: false,
    last: -Infinity,
    interval: 0,
    values: 0,
    refusals: 0,
  };
  if (!entry.notifies || asked?.how === 'poll') return followed;
  const onData = (data: Buffer) => {
    arrived(context, peripheral, followed, data);
  };
  // A battery that notifies is still asked for once a minute: it may never change.
  followed.subscribed = (await subscribe(entry, onData, stop)) && !isBattery;
  if (followed.subscribed && followed.values === 0) followed.last = context.now();
  return followed;
}

/** Whether the sensor accepted; listeners go with the table when it is read anew. */
async function subscribe(
  entry: TableEntry,
  onData: (data: Buffer) => void,
  stop: AbortSignal,
): Promise<boolean> {
  if (!entry.notifies) return false;
  entry.device.on('data', (data: Buffer, isNotification: boolean) => {
    if (isNotification && !stop.aborted) onData(data);
  });
  try {
    await within(entry.device.subscribeAsync(), SUBSCRIBE_MS, 'subscription', stop);
    return true;
  } catch (error) {
    if (error instanceof RadioTimeout && !stop.aborted) return false;
    throw error;
  }
}

function arrived(
  context: LinkContext,
  peripheral: NoblePeripheral,
  followed: Followed,
  data: Buffer,
): void {
  const t = context.now();
  if (followed.values > 0) followed.interval = t - followed.last;
  followed.values += 1;
  followed.last = t;
  const { service, characteristic, instance } = followed.entry;
  context.tell({
    type: 'value',
    id: peripheral.id,
    t,
    service,
    characteristic,
    instance,
    data: data.subarray(0, 1024).toString('hex'),
  });
}

function isDue(f: Followed, now: number): boolean {
  if (!f.entry.reads || f.refusals >= REFUSALS) return false;
  const since = now - f.last;
  if (!f.subscribed) return since >= (f.period_s ?? 1);
  if (f.values === 0) return since >= FIRST_VALUE_S;
  return since >= Math.max(SILENT_S, SILENT_INTERVALS * f.interval);
}

/** Whether the sensor answered at all. */
async function ask(
  context: LinkContext,
  peripheral: NoblePeripheral,
  followed: Followed,
  stop: AbortSignal,
): Promise<boolean> {
  const before = followed.interval;
  const asked = context.now();
  try {
    const data = await within(followed.entry.device.readAsync(), READ_MS, 'read', stop);
    if (data.length === 0) {
      // Either refused or truly empty; noble does not tell the two apart.
      followed.refusals += 1;
      followed.last = asked;
      return true;
    }
    followed.refusals = 0;
    arrived(context, peripheral, followed, data);
    // A read is timed from when it was asked, so that polling keeps its period.
    if (!followed.subscribed) followed.last = asked;
    followed.interval = before;
    return true;
  } catch (error) {
    if (!(error instanceof RadioTimeout)) throw error;
    followed.last = asked;
    return stop.aborted;
  }
}

async function tellRssi(
  context: LinkContext,
  peripheral: NoblePeripheral,
  stop: AbortSignal,
): Promise<void> {
  try {
    const rssi = await within(peripheral.updateRssiAsync(), 2000, 'signal strength', stop);
    if (Number.isInteger(rssi) && rssi >= -127 && rssi <= 20) {
      context.tell({ type: 'rssi', id: peripheral.id, rssi });
    }
  } catch {
    if (!stop.aborted) context.rssi.works = false;
  }
}
