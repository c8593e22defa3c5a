import { normaliseUuid } from '../../core/radio/uuid.ts';
import { errorText } from '../error-text.ts';
import { RadioTimeout, within } from './deadline.ts';
import { followSensor } from './link.ts';
import type { AdapterState, Notice, NoticeOf, Request, Target } from './messages.ts';
import type { Noble, NoblePeripheral } from './noble-types.ts';

const CONNECT_MS = 12_000;
const FIRST_BACKOFF_S = 1;
const LONGEST_BACKOFF_S = 30;
/** A link that held this long was good: the next failure starts the back-off anew. */
const GOOD_LINK_S = 20;
/** Equal advertisements of one sensor are passed on once in this time. */
const EQUAL_EVERY_S = 1;
const RESCAN_MS = 2000;
const GOODBYE_MS = 300;
const MOST_SEEN = 1000;
/**
 * Attempts to connect that went unanswered in a row, of two sensors at least, after which the radio
 * is stuck: an adapter that does not end a cancelled attempt makes noble wait for ever.
 */
const STUCK_AFTER = 3;

const ADAPTER: Readonly<Record<string, AdapterState>> = {
  poweredOn: 'on',
  poweredOff: 'off',
  unauthorized: 'unauthorized',
  unsupported: 'unsupported',
  resetting: 'resetting',
};

interface Held {
  target: Target;
  state: 'waiting' | 'connecting' | 'linked';
  stop: AbortController;
  notBefore: number;
  backoff_s: number;
}

/**
 * The radio's one master: scans, connects one sensor at a time (with scanning paused, which many
 * adapters need), holds several links, and tries again with back-off when it hears a lost sensor.
 */
export class Central {
  readonly #noble: Noble;
  readonly #now: () => number;
  readonly #tell: (notice: Notice) => void;
  readonly #held = new Map<string, Held>();
  readonly #heard = new Map<string, { text: string; t: number }>();
  readonly #rssi = { works: true };
  readonly #guarded = new Set<string>();
  readonly #stuck: (why: string) => void;
  /** Sensors whose attempts went unanswered since the last connection. */
  #unanswered: string[] = [];
  #adapter: AdapterState = 'unknown';
  #scanAsked = false;
  #listen = false;
  #scanning = false;
  #connecting = false;
  #over = false;

  /**
   * @param now seconds, monotonic
   * @param stuck called when only a new process can help
   */
  constructor(
    noble: Noble,
    now: () => number,
    tell: (notice: Notice) => void,
    stuck: (why: string) => void,
  ) {
    this.#stuck = stuck;
    this.#noble = noble;
    this.#now = now;
    this.#tell = tell;
    noble.on('warning', (message: string) => this.#onWarning(message));
    noble.on('discover', (peripheral: NoblePeripheral) => this.#onDiscover(peripheral));
    noble.on('scanStop', () => this.#onScanStop());
    // noble starts its bindings when this listener is added.
    noble.on('stateChange', (state: string) =>
      this.#setAdapter(ADAPTER[state] ?? 'unknown', state),
    );
  }

  /** Does what the program asks. */
  handle(request: Request): void {
    if (request.type === 'scan') this.#scanAsked = request.on;
    else if (request.type === 'targets') {
      this.#listen = request.listen;
      this.#setTargets(request.links);
    }
    this.#updateScan();
  }

  /** Breaks every link; resolves when the radio has had time to say so. */
  async end(): Promise<void> {
    if (this.#over) return;
    this.#over = true;
    const links = [...this.#held.values()].some((h) => h.state !== 'waiting');
    for (const h of this.#held.values()) h.stop.abort();
    if (this.#scanning) this.#noble.stopScanning();
    this.#scanning = false;
    if (links) await new Promise((resolve) => setTimeout(resolve, GOODBYE_MS));
  }

  get #on(): boolean {
    return this.#adapter === 'on' && !this.#over;
  }

  #updateScan(): void {
    const waiting = [...this.#held.values()].some((h) => h.state === 'waiting');
    const want = this.#on && !this.#connecting && (this.#scanAsked || this.#listen || waiting);
    if (want === this.#scanning) return;
    this.#scanning = want;
    if (want) this.#noble.startScanning([], true);
    else if (this.#adapter === 'on') this.#noble.stopScanning();
  }

  #setAdapter(state: AdapterState, detail: string): void {
    this.#adapter = state;
    this.#tell({ type: 'adapter', state, detail: detail.slice(0, 500) });
    if (state !== 'on') {
      this.#scanning = false;
      for (const h of this.#held.values()) h.stop.abort();
    }
    this.#updateScan();
  }

  #onWarning(message: string): void {
    if (this.#adapter !== 'unknown' || !message.startsWith('Initialization')) return;
    const denied = /EPERM|EACCES|not permitted|denied/i.test(message);
    this.#setAdapter(denied ? 'unauthorized' : 'absent', message);
  }

  #onScanStop(): void {
    if (!this.#scanning) return;
    // Somebody else stopped the scan, or it ended on its own.
    setTimeout(() => {
      if (this.#scanning && this.#on && !this.#connecting) this.#noble.startScanning([], true);
    }, RESCAN_MS);
  }

  #onDiscover(peripheral: NoblePeripheral): void {
    const t = this.#now();
    const notice = advertisement(peripheral, t);
    if (notice === null) return;
    if (this.#isNews(notice)) this.#tell(notice);
    const h = this.#held.get(peripheral.id);
    if (h?.state === 'waiting' && t >= h.notBefore && !this.#connecting && this.#on) {
      void this.#hold(h, peripheral);
    }
  }

  #isNews(notice: NoticeOf<'advertisement'>): boolean {
    const text = JSON.stringify([notice.name, notice.serviceData, notice.manufacturerData]);
    const last = this.#heard.get(notice.id);
    if (last?.text === text && notice.t - last.t < EQUAL_EVERY_S) return false;
    this.#heard.delete(notice.id);
    this.#heard.set(notice.id, { text, t: notice.t });
    const [oldest] = this.#heard.keys();
    if (this.#heard.size > MOST_SEEN && oldest !== undefined) this.#heard.delete(oldest);
    return true;
  }

  /** Connects, follows until the link ends, and sets when to try again. */
  async #hold(h: Held, peripheral: NoblePeripheral): Promise<void> {
    const tellLink = (state: NoticeOf<'link'>['state'], reason: string) => {
      const { id } = peripheral;
      this.#tell({ type: 'link', id, t: this.#now(), state, reason: reason.slice(0, 300) });
    };
    this.#guard(peripheral);
    h.state = 'connecting';
    h.stop = new AbortController();
    const { stop } = h;
    const onDisconnect = () => stop.abort();
    peripheral.once('disconnect', onDisconnect);
    tellLink('connecting', '');
    let reason = await this.#connect(peripheral, stop.signal);
    const since = reason === null ? this.#now() : null;
    if (reason === null) {
      h.state = 'linked';
      tellLink('connected', '');
      reason = await followSensor(
        { noble: this.#noble, now: this.#now, tell: this.#tell, rssi: this.#rssi },
        peripheral,
        h.target.follow,
        stop.signal,
      );
    }
    stop.abort();
    peripheral.removeListener('disconnect', onDisconnect);
    if (peripheral.state === 'connected') peripheral.disconnect();
    backOff(h, since, this.#now());
    tellLink(since === null ? 'failed' : 'lost', reason);
    this.#updateScan();
  }

  /** A connection that comes after its attempt was given up is broken, so that it can be made anew. */
  #guard(peripheral: NoblePeripheral): void {
    if (this.#guarded.has(peripheral.id)) return;
    this.#guarded.add(peripheral.id);
    peripheral.on('connect', (error: unknown) => {
      const state = this.#held.get(peripheral.id)?.state ?? 'waiting';
      const failed = error !== undefined && error !== null;
      if (!failed && state === 'waiting') peripheral.disconnect();
    });
  }

  /** Null where it succeeded, else why not. */
  async #connect(peripheral: NoblePeripheral, signal: AbortSignal): Promise<string | null> {
    this.#connecting = true;
    this.#updateScan();
    try {
      await within(peripheral.connectAsync(), CONNECT_MS, 'connection', signal);
      this.#unanswered = [];
      return null;
    } catch (error) {
      peripheral.cancelConnect();
      if (error instanceof RadioTimeout && !signal.aborted) this.#countUnanswered(peripheral.id);
      return errorText(error);
    } finally {
      this.#connecting = false;
      this.#updateScan();
    }
  }

  #countUnanswered(id: string): void {
    this.#unanswered.push(id);
    const isStuck = this.#unanswered.length >= STUCK_AFTER && new Set(this.#unanswered).size > 1;
    if (isStuck) this.#stuck('several sensors in a row could not be connected');
  }

  #setTargets(targets: readonly Target[]): void {
    const wanted = new Map(targets.map((target) => [target.id, target]));
    for (const [id, h] of this.#held) {
      const target = wanted.get(id);
      if (target !== undefined && JSON.stringify(target) === JSON.stringify(h.target)) continue;
      h.stop.abort();
      if (target === undefined) this.#held.delete(id);
      else h.target = target;
    }
    for (const [id, target] of wanted) {
      if (this.#held.has(id)) continue;
      const stop = new AbortController();
      this.#held.set(id, { target, state: 'waiting', stop, notBefore: 0, backoff_s: 0 });
    }
  }
}

function backOff(h: Held, since: number | null, now: number): void {
  const wasGood = since !== null && now - since >= GOOD_LINK_S;
  h.backoff_s = wasGood
    ? 0
    : Math.min(LONGEST_BACKOFF_S, Math.max(FIRST_BACKOFF_S, 2 * h.backoff_s));
  h.notBefore = now + h.backoff_s;
  h.state = 'waiting';
}

/** What is passed on of an advertisement; null where the sensor's id is unusable. */
function advertisement(peripheral: NoblePeripheral, t: number): NoticeOf<'advertisement'> | null {
  if (peripheral.id.length === 0 || peripheral.id.length > 128) return null;
  const { localName, serviceUuids, serviceData, manufacturerData } = peripheral.advertisement;
  const address = peripheral.address.toLowerCase().replaceAll(/[:-]/g, '');
  const hex = (data: Buffer) => data.subarray(0, 1024).toString('hex');
  return {
    type: 'advertisement',
    id: peripheral.id,
    t,
    address: /^[0-9a-f]{12}$/.test(address) ? address : null,
    name: localName === undefined || localName === '' ? null : cleanName(localName),
    rssi: Number.isInteger(peripheral.rssi) ? Math.max(-127, Math.min(20, peripheral.rssi)) : null,
    connectable: Boolean(peripheral.connectable),
    services: (serviceUuids ?? []).flatMap((u) => normaliseUuid(u) ?? []).slice(0, 64),
    serviceData: (serviceData ?? [])
      .flatMap(({ uuid, data }) => {
        const normal = normaliseUuid(uuid);
        return normal === null ? [] : [{ uuid: normal, data: hex(data) }];
      })
      .slice(0, 32),
    manufacturerData: manufacturerData === undefined ? null : hex(manufacturerData),
  };
}

function cleanName(name: string): string | null {
  const clean = name
    .replace(/\p{Cc}+/gu, ' ')
    .trim()
    .slice(0, 300);
  return clean === '' ? null : clean;
}
