import { SENSOR_TIPS } from '../../core/radio/sensor-health.ts';
import { channelValue } from '../../core/radio/sensor-value.ts';
import type { SensorView, SensorsView, SensorValueView } from '../bridge/views.ts';
import type { RadioHub } from './hub.ts';
import type { LiveSensor, LiveValue } from './live-sensor.ts';
import type { RememberedValue, SensorRecord, SensorStore } from './sensor-store.ts';
import type { SwapWatch } from './swap-watch.ts';
import { adapterAlert, RADIO_TIPS } from './tips.ts';

/** A stranger that was not heard for this long is no longer shown. */
const GONE_AFTER_S = 60;

export interface ViewParts {
  readonly hub: RadioHub;
  readonly memory: SensorStore;
  readonly swaps: SwapWatch;
  readonly scanning: boolean;
  readonly now: number;
  /** Local atmosphere of a unit, Pa. */
  readonly atmosphere: (unit: string) => number;
}

/** The sensors screen's whole picture: remembered sensors first, then strangers by signal. */
export function sensorsView(parts: ViewParts): SensorsView {
  const { hub, memory, now } = parts;
  const code = adapterAlert(hub.adapter);
  const views = hub.sensors().flatMap((live) => {
    const record = memory.get(live.id);
    const isGone = live.lastSeen === null || now - live.lastSeen > GONE_AFTER_S;
    return record === null && isGone ? [] : [sensorView(parts, live, record)];
  });
  return {
    alert: code === null ? null : { code, tip: RADIO_TIPS[code] },
    scanning: parts.scanning,
    problem: memory.problem,
    sensors: views.sort(compare),
    questions: parts.swaps.questions(now),
  };
}

function compare(a: SensorView, b: SensorView): number {
  if (a.remembered !== b.remembered) return a.remembered ? -1 : 1;
  if (a.remembered) return a.name.localeCompare(b.name) || a.id.localeCompare(b.id);
  return (b.rssi_dBm ?? -200) - (a.rssi_dBm ?? -200) || a.id.localeCompare(b.id);
}

function sensorView(parts: ViewParts, live: LiveSensor, record: SensorRecord | null): SensorView {
  const { hub, now } = parts;
  const health = record === null ? null : hub.health(record);
  const keys = new Set([...live.values.keys(), ...(record?.values ?? []).map((v) => v.key)]);
  return {
    id: live.id,
    name: record?.name ?? live.name ?? 'No name',
    heardAs: live.name,
    address: record?.address ?? live.address,
    remembered: record !== null,
    reach: record?.reach ?? (live.broadcasts ? 'broadcast' : 'link'),
    connectable: live.connectable,
    rssi_dBm: live.rssi_dBm,
    battery_percent: live.battery_percent,
    seenAgo_s: live.lastSeen === null ? null : Math.max(0, now - live.lastSeen),
    health: health === null ? null : { state: health, tip: SENSOR_TIPS[health] },
    keyNeeded: live.keyNeeded,
    hasKey: record !== null && record.bindKey !== null,
    description: record?.description?.name ?? null,
    refusal: live.refusal,
    info: Object.fromEntries(live.info),
    values: [...keys].map((key) =>
      valueView(
        parts,
        key,
        live.values.get(key) ?? null,
        record?.values.find((v) => v.key === key) ?? null,
      ),
    ),
  };
}

function valueView(
  parts: ViewParts,
  key: string,
  live: LiveValue | null,
  remembered: RememberedValue | null,
): SensorValueView {
  return { ...sentParts(parts, live, remembered), ...settingParts(key, live, remembered) };
}

/** What the sensor sent; a pressure without reference stays as it was sent. */
function sentParts(parts: ViewParts, live: LiveValue | null, remembered: RememberedValue | null) {
  if (live === null) return { value: null, sent: null, ago_s: null, period_s: null, hint: null };
  const reference = remembered?.reference ?? null;
  const zeroOffset = remembered?.zero?.offset_Pa ?? 0;
  const atmosphere = parts.atmosphere(remembered?.assigned?.unit ?? '');
  const { quantity, value, t, period_s, hint } = live;
  return {
    value: channelValue({ quantity, value }, { reference, zeroOffset }, atmosphere),
    sent: value,
    ago_s: t === null ? null : Math.max(0, parts.now - t),
    period_s,
    hint,
  };
}

/** What a person set; a value that is not remembered has nothing set. */
function settingParts(key: string, live: LiveValue | null, remembered: RememberedValue | null) {
  const { label = key, quantity = 'pressure' } = live ?? remembered ?? {};
  const { assigned = null, reference = null, zero = null } = remembered ?? {};
  return { key, label, quantity, assigned, reference, zero };
}
