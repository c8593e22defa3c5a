import { decodeBthome, type CcmDecrypt } from '../../core/radio/bthome.ts';
import { judgeBroadcast, type BroadcastMemory } from '../../core/radio/bthome-repeats.ts';
import { fromHex, type Bytes } from '../../core/radio/bytes.ts';
import type { Measurement } from '../../core/radio/decoded.ts';
import { decodeDescribed, quantityOf } from '../../core/radio/described-value.ts';
import type { DescribedValue } from '../../core/radio/description.ts';
import {
  decodeEsMeasurement,
  decodePresentationFormat,
  decodeText,
} from '../../core/radio/descriptors.ts';
import {
  decodeBatteryLevel,
  decodeValidRange,
  type ValidRange,
} from '../../core/radio/environmental.ts';
import { channelHint } from '../../core/radio/hint.ts';
import type { SensorFacts } from '../../core/radio/sensor-health.ts';
import { standardCharacteristic } from '../../core/radio/standard.ts';
import { UUID } from '../../core/radio/uuid.ts';
import type { ChannelKey } from '../../core/stream/channels.ts';
import type { Quantity } from '../../core/units/symbols.ts';
import type { FoundCharacteristic, NoticeOf } from './messages.ts';
import type { SensorRecord } from './sensor-store.ts';

/** One value of a sensor as it stands now. */
export interface LiveValue {
  readonly key: string;
  label: string;
  quantity: Quantity;
  hint: ChannelKey | null;
  /** As sent; null before the first, and where the sensor does not know. */
  value: number | null;
  t: number | null;
  period_s: number | null;
  range: ValidRange | null;
  /** What the sensor itself claims (0x290C), a fraction of reading. */
  uncertainty: number | null;
}

/** A value that arrived: known, not known, or refused as garbage. */
export interface Reading {
  readonly key: string;
  readonly t: number;
  readonly outcome:
    { readonly measurement: Measurement } | { readonly refused: string /* the failure's code */ };
  readonly seq: number | null;
  readonly deviceTime_s: number | null;
}

/** How much of the newest interval goes into the period that is shown. */
const SMOOTHING = 0.2;
const NOMINAL_PERIOD_S = 5;
/** Values kept for a zero check. */
const RECENT = 400;

const INFO: Readonly<Record<string, string>> = {
  [UUID.manufacturerName]: 'maker',
  [UUID.modelNumber]: 'model',
  [UUID.serialNumber]: 'serial',
  [UUID.firmwareRevision]: 'firmware',
  [UUID.hardwareRevision]: 'hardware',
  [UUID.softwareRevision]: 'software',
};

const QUANTITY_NAMES: Readonly<Record<Quantity, string>> = {
  pressure: 'Pressure',
  temperature: 'Temperature',
  humidity: 'Humidity',
  current: 'Current',
  voltage: 'Voltage',
  vacuum: 'Vacuum',
  mass: 'Weight',
};

/**
 * What is known of one sensor while the program runs. It turns the radio's notices into readings;
 * what becomes of them is decided by who listens.
 */
export class LiveSensor {
  readonly id: string;
  address: string | null = null;
  name: string | null = null;
  company: number | null = null;
  services: readonly string[] = [];
  rssi_dBm: number | null = null;
  battery_percent: number | null = null;
  connectable = false;
  broadcasts = false;
  lastSeen: number | null = null;
  /** Since when it is linked, or first heard where it broadcasts. */
  since: number | null = null;
  link: 'none' | 'connecting' | 'connected' | 'lost' | 'failed' = 'none';
  keyNeeded = false;
  /** It sends on an event only: a broadcast says so, a characteristic that cannot be read shows it. */
  onEvent = false;
  /** Packets refused since the last good one, and why the last was. */
  refused = 0;
  refusal: string | null = null;
  /** Times the radio process broke off while this sensor was being connected. */
  crashes = 0;
  readonly info = new Map<string, string>();
  readonly values = new Map<string, LiveValue>();
  readonly #recent = new Map<string, { t: number; value: number }[]>();
  readonly #lastData = new Map<string, string>();
  /** Place in the table (service, characteristic, instance) to the key of its value. */
  readonly #keys = new Map<string, string>();
  #broadcast: BroadcastMemory | null = null;

  constructor(id: string) {
    this.id = id;
  }

  /** Takes an advertisement in; gives the readings that are new in it. */
  onAdvertisement(
    notice: NoticeOf<'advertisement'>,
    record: SensorRecord | null,
    decrypt: CcmDecrypt,
  ): Reading[] {
    this.lastSeen = notice.t;
    this.address = notice.address ?? this.address;
    this.name = notice.name ?? this.name;
    this.services = notice.services;
    this.rssi_dBm = notice.rssi;
    this.connectable = notice.connectable;
    const readings: Reading[] = [];
    const bthome = notice.serviceData.find((d) => d.uuid === UUID.bthome);
    if (bthome !== undefined)
      readings.push(...this.#onBthome(bthome.data, notice.t, record, decrypt));
    const manufacturer = bytesOf(notice.manufacturerData ?? '');
    this.company =
      manufacturer.byteLength >= 2 ? (manufacturer[0] ?? 0) + 256 * (manufacturer[1] ?? 0) : null;
    for (const value of record?.description?.values ?? []) {
      const data = broadcastBytes(value, notice, manufacturer, this.company);
      if (data === null) continue;
      this.broadcasts = true;
      this.since ??= notice.t;
      if (!this.#isNewBroadcast(value.key, data, notice.t)) continue;
      readings.push(this.#described(value, data, notice.t));
    }
    return readings;
  }

  /** Takes a connected sensor's table in. */
  onTable(characteristics: readonly FoundCharacteristic[], record: SensorRecord | null): void {
    this.#keys.clear();
    for (const c of characteristics) {
      if (c.value !== null && INFO[c.characteristic] !== undefined) {
        const text = decodeText(bytesOf(c.value));
        if (text.ok && text.value !== '') this.info.set(INFO[c.characteristic] ?? '', text.value);
      }
      const standard = standardCharacteristic(c.characteristic);
      if (standard === null) continue;
      const several =
        characteristics.filter((o) => o.characteristic === c.characteristic).length > 1;
      const words = describeWords(c);
      const key = keyOf(c, characteristics);
      this.#keys.set(placeOf(c), key);
      const value = this.#value(key, standard.quantity);
      value.label =
        words.label ?? defaultLabel(standard.quantity, words.extra, several ? c.instance : 0);
      value.hint = channelHint(standard.quantity, `${words.label ?? ''} ${words.extra}`);
      value.uncertainty = words.uncertainty;
      value.range = validRange(c);
    }
    for (const described of record?.description?.values ?? []) {
      if (described.from.kind === 'characteristic') this.#describedValue(described);
    }
    const measured = characteristics.filter((c) => this.#keys.has(placeOf(c)));
    this.onEvent = measured.length > 0 && measured.every((c) => !c.reads);
    this.#dropMissing(record);
  }

  /** Takes a characteristic's value in; gives the readings in it. */
  onValue(notice: NoticeOf<'value'>, record: SensorRecord | null): Reading[] {
    const data = bytesOf(notice.data);
    if (notice.characteristic === UUID.batteryLevel) {
      const level = decodeBatteryLevel(data);
      if (level.ok) this.battery_percent = level.value;
      else this.#refuse(level.error.code);
      return [];
    }
    const readings: Reading[] = [];
    for (const value of record?.description?.values ?? []) {
      const from = value.from;
      const isIt =
        from.kind === 'characteristic' &&
        from.service === notice.service &&
        from.characteristic === notice.characteristic &&
        from.instance === notice.instance;
      if (isIt) readings.push(this.#described(value, data, notice.t));
    }
    const standard = standardCharacteristic(notice.characteristic);
    if (standard === null || readings.length > 0) return readings;
    const key = this.#keys.get(placeOf(notice)) ?? placeOf(notice);
    const value = this.#value(key, standard.quantity);
    const decoded = standard.decode(data);
    const stamp = { key: value.key, t: notice.t, seq: null };
    if (!decoded.ok) {
      return [{ ...stamp, outcome: this.#refuse(decoded.error.code), deviceTime_s: null }];
    }
    const { measurement, deviceTime_s } = decoded.value;
    if (isOutside(measurement, value.range)) {
      return [{ ...stamp, outcome: this.#refuse('OUTSIDE_VALID_RANGE'), deviceTime_s }];
    }
    return [{ ...stamp, outcome: this.#accept(value, measurement, notice.t), deviceTime_s }];
  }

  /** The facts from which the sensor's health follows. */
  facts(now: number, radio: boolean, reach: SensorRecord['reach']): SensorFacts {
    const times = [...this.values.values()].flatMap((v) => v.t ?? []);
    const periods = [...this.values.values()].flatMap((v) => v.period_s ?? []);
    return {
      now,
      radio,
      link: reach === 'broadcast' ? 'broadcast' : this.link,
      lastSeen: this.lastSeen,
      since: this.since,
      lastValue: times.length === 0 ? null : Math.max(...times),
      period_s: periods.length === 0 ? NOMINAL_PERIOD_S : Math.max(...periods),
      battery_percent: this.battery_percent,
      rssi_dBm: this.rssi_dBm,
      keyNeeded: this.keyNeeded,
      onEvent: this.onEvent,
      refused: this.refused,
    };
  }

  /** The last values of one key as sent, for a zero check; oldest first. */
  recent(key: string, since: number): readonly { t: number; value: number }[] {
    return (this.#recent.get(key) ?? []).filter((r) => r.t >= since);
  }

  #onBthome(data: string, t: number, record: SensorRecord | null, decrypt: CcmDecrypt): Reading[] {
    this.broadcasts = true;
    this.since ??= t;
    const bytes = bytesOf(data);
    const address = record?.address ?? this.address;
    const key =
      record === null || record.bindKey === null
        ? null
        : {
            key: bytesOf(record.bindKey),
            address: address === null ? null : bytesOf(address),
            decrypt,
          };
    const decoded = decodeBthome(bytes, key);
    this.keyNeeded = !decoded.ok && ['ENCRYPTED', 'DECRYPTION_FAILED'].includes(decoded.error.code);
    if (!decoded.ok) {
      this.#refuse(decoded.error.code);
      return [];
    }
    const judged = judgeBroadcast(this.#broadcast, decoded.value, bytes, t);
    this.#broadcast = judged.memory;
    if (judged.verdict === 'replayed') this.#refuse('REPLAYED');
    if (judged.verdict !== 'new') return [];
    this.onEvent = decoded.value.onTrigger;
    this.battery_percent = decoded.value.battery_percent ?? this.battery_percent;
    const seq = decoded.value.counter ?? decoded.value.packetId;
    return decoded.value.values.map((v) => {
      const hex = v.object.toString(16).padStart(2, '0');
      const value = this.#value(`bthome/${hex}/${v.instance}`, v.measurement.quantity);
      value.label = defaultLabel(v.measurement.quantity, '', v.instance > 1 ? v.instance : 0);
      value.hint = channelHint(v.measurement.quantity, this.name ?? '');
      const outcome = v.implausible
        ? this.#refuse('OUT_OF_RANGE')
        : this.#accept(value, v.measurement, t);
      return { key: value.key, t, outcome, seq, deviceTime_s: null };
    });
  }

  #described(described: DescribedValue, data: Bytes, t: number): Reading {
    const value = this.#describedValue(described);
    const decoded = decodeDescribed(described, data);
    if (!decoded.ok) {
      const outcome = this.#refuse(decoded.error.code);
      return { key: value.key, t, outcome, seq: null, deviceTime_s: null };
    }
    const { measurement, seq, deviceTime_s } = decoded.value;
    return { key: value.key, t, outcome: this.#accept(value, measurement, t), seq, deviceTime_s };
  }

  #describedValue(described: DescribedValue): LiveValue {
    const value = this.#value(`described/${described.key}`, quantityOf(described));
    value.label = described.label;
    value.hint = described.channelHint ?? null;
    return value;
  }

  /** A described broadcast has no packet id: an equal one is new after four seconds. */
  #isNewBroadcast(key: string, data: Bytes, t: number): boolean {
    const text = Buffer.from(data).toString('hex');
    const last = this.values.get(`described/${key}`)?.t ?? -Infinity;
    if (this.#lastData.get(key) === text && t - last < 4) return false;
    this.#lastData.set(key, text);
    return true;
  }

  #value(key: string, quantity: Quantity): LiveValue {
    const known = this.values.get(key);
    if (known !== undefined) return known;
    const value: LiveValue = {
      key,
      label: defaultLabel(quantity, '', 0),
      quantity,
      hint: null,
      value: null,
      t: null,
      period_s: null,
      range: null,
      uncertainty: null,
    };
    this.values.set(key, value);
    return value;
  }

  /** Values that the sensor's new table no longer has, unless they are remembered. */
  #dropMissing(record: SensorRecord | null): void {
    const present = new Set(this.#keys.values());
    for (const key of this.values.keys()) {
      const isOther = key.startsWith('described/') || key.startsWith('bthome/');
      const isRemembered = record?.values.some((v) => v.key === key) ?? false;
      if (!isOther && !isRemembered && !present.has(key)) this.values.delete(key);
    }
  }

  #accept(value: LiveValue, measurement: Measurement, t: number): Reading['outcome'] {
    this.refused = 0;
    this.refusal = null;
    if (value.t !== null && t > value.t) {
      const interval = t - value.t;
      value.period_s =
        value.period_s === null
          ? interval
          : value.period_s + SMOOTHING * (interval - value.period_s);
    }
    value.t = t;
    value.value = measurement.value;
    if (measurement.value !== null) {
      const recent = this.#recent.get(value.key) ?? [];
      recent.push({ t, value: measurement.value });
      if (recent.length > RECENT) recent.shift();
      this.#recent.set(value.key, recent);
    }
    return { measurement };
  }

  #refuse(code: string): { refused: string } {
    this.refused += 1;
    this.refusal = code;
    return { refused: code };
  }
}

const bytesOf = (hex: string): Uint8Array => fromHex(hex) ?? new Uint8Array();

function placeOf(c: { service: string; characteristic: string; instance: number }): string {
  return `${c.service}/${c.characteristic}/${c.instance}`;
}

/**
 * The key by which a value is remembered. A sensor may change the order of its table, and then the
 * second pressure would pass for the first: so what tells the instances apart (user description,
 * application, presentation format) makes the key, and their order only where nothing does.
 */
function keyOf(c: FoundCharacteristic, all: readonly FoundCharacteristic[]): string {
  const mark = markOf(c);
  const twins = all.filter(
    (o) => o.service === c.service && o.characteristic === c.characteristic && markOf(o) === mark,
  );
  if (mark === '' || twins.length > 1) return placeOf(c);
  return `${c.service}/${c.characteristic}/${mark}`;
}

function markOf(c: FoundCharacteristic): string {
  const words = describeWords(c);
  return [words.label?.slice(0, 60) ?? '', words.extra.slice(0, 40)]
    .filter((w) => w !== '')
    .join('~');
}

function defaultLabel(quantity: Quantity, extra: string, instance: number): string {
  const name = QUANTITY_NAMES[quantity];
  return `${name}${instance > 0 ? ` ${instance}` : ''}${extra === '' ? '' : ` (${extra})`}`;
}

function describeWords(c: FoundCharacteristic): {
  label: string | null;
  extra: string;
  uncertainty: number | null;
} {
  const text = decodeText(bytesOf(c.descriptors[UUID.userDescription] ?? ''));
  const es = decodeEsMeasurement(bytesOf(c.descriptors[UUID.esMeasurement] ?? ''));
  const format = decodePresentationFormat(bytesOf(c.descriptors[UUID.presentationFormat] ?? ''));
  const place = es.ok && es.value.application !== 'unspecified' ? es.value.application : null;
  const extra = [place, format.ok ? format.value.description : null];
  return {
    label: text.ok && text.value !== '' ? text.value.slice(0, 120) : null,
    extra: extra.filter((word) => word !== null).join(', '),
    uncertainty: es.ok ? es.value.uncertainty : null,
  };
}

function validRange(c: FoundCharacteristic): ValidRange | null {
  const integer = standardCharacteristic(c.characteristic)?.integer ?? null;
  const data = c.descriptors[UUID.validRange];
  if (integer === null || data === undefined) return null;
  const range = decodeValidRange(integer, bytesOf(data));
  return range.ok ? range.value : null;
}

function isOutside(m: Measurement, range: ValidRange | null): boolean {
  return range !== null && m.value !== null && (m.value < range.min || m.value > range.max);
}

function broadcastBytes(
  value: DescribedValue,
  notice: NoticeOf<'advertisement'>,
  manufacturer: Bytes,
  company: number | null,
): Bytes | null {
  const { from } = value;
  if (from.kind === 'manufacturerData') {
    return from.company === company ? manufacturer.subarray(2) : null;
  }
  if (from.kind !== 'serviceData') return null;
  const data = notice.serviceData.find((d) => d.uuid === from.service);
  return data === undefined ? null : bytesOf(data.data);
}
