import { EventEmitter } from 'node:events';

/** One characteristic of a sensor behind the fake bindings. */
export interface FakeCharacteristic {
  readonly service: string;
  readonly uuid: string;
  readonly properties: readonly ('read' | 'notify' | 'indicate')[];
  value: Buffer;
  readonly descriptors?: Readonly<Record<string, Buffer>>;
  /** noble says nothing when a subscription is refused. */
  readonly refusesSubscription?: boolean;
  /** Set by the bindings when the program subscribed. */
  subscribed?: boolean;
}

export interface FakePeripheral {
  readonly id: string;
  readonly name: string;
  readonly characteristics: FakeCharacteristic[];
  readonly serviceData?: readonly { uuid: string; data: Buffer }[];
  /** Never answers an attempt to connect. */
  readonly mute?: boolean;
}

interface FakeOptions {
  readonly peripherals: readonly FakePeripheral[];
  /** State after the start; 'poweredOn' unless said. */
  readonly state?: string;
  /** Thrown by the start, as on a machine without adapter. */
  readonly failure?: string;
  /** Whether attribute handles are told (Linux) or not (macOS, Windows). */
  readonly handles: boolean;
}

const FLAGS = { read: 0x02, notify: 0x10, indicate: 0x20 } as const;

/**
 * noble's bindings without a radio: noble's own objects above, plain data below. Events come later
 * than the calls, as from a real adapter.
 */
export class FakeBindings extends EventEmitter {
  readonly #options: FakeOptions;
  readonly #connected = new Set<string>();
  #scan: NodeJS.Timeout | null = null;
  scanning = false;

  constructor(options: FakeOptions) {
    super();
    this.#options = options;
  }

  init(): void {
    if (this.#options.failure !== undefined) throw new Error(this.#options.failure);
    this.#later('stateChange', this.#options.state ?? 'poweredOn');
  }

  /** The adapter changes its state, as when a person switches it off. */
  become(state: string): void {
    if (state !== 'poweredOn') this.stopScanning();
    this.emit('stateChange', state);
  }

  startScanning(): void {
    this.scanning = true;
    this.#later('scanStart', false);
    this.#scan ??= setInterval(() => this.#advertise(), 20);
  }

  stopScanning(): void {
    this.scanning = false;
    if (this.#scan !== null) clearInterval(this.#scan);
    this.#scan = null;
    this.#later('scanStop');
  }

  connect(id: string): void {
    if (this.#peripheral(id).mute === true) return;
    this.#connected.add(id);
    this.#later('connect', id, null);
  }

  cancelConnect(): void {
    // Nothing is pending: a mute sensor never comes.
  }

  disconnect(id: string): void {
    if (this.#connected.delete(id)) this.#later('disconnect', id, 0x16);
  }

  /** The link breaks, as out of range. */
  lose(id: string): void {
    for (const c of this.#peripheral(id).characteristics) c.subscribed = false;
    if (this.#connected.delete(id)) this.emit('disconnect', id, 0x08);
  }

  isConnected(id: string): boolean {
    return this.#connected.has(id);
  }

  updateRssi(id: string): void {
    this.#later('rssiUpdate', id, -70);
  }

  addService(): void {
    // Handles are found by the names.
  }

  addCharacteristics(): void {
    // Likewise.
  }

  discoverServices(id: string): void {
    const uuids = [...new Set(this.#peripheral(id).characteristics.map((c) => c.service))];
    if (this.#options.handles) {
      const raw = uuids.map((uuid, i) => ({
        uuid,
        startHandle: 100 * (i + 1),
        endHandle: 100 * (i + 2) - 1,
      }));
      this.#later('servicesDiscovered', id, raw);
    }
    this.#later('servicesDiscover', id, uuids);
  }

  discoverCharacteristics(id: string, service: string): void {
    const all = this.#peripheral(id).characteristics;
    const inside = all.filter((c) => c.service === service.split('@')[0]);
    if (this.#options.handles) {
      const raw = inside.map((c) => ({
        uuid: c.uuid,
        properties: c.properties.reduce((sum, name) => sum | FLAGS[name], 0),
        startHandle: all.indexOf(c) * 10 + 1,
        valueHandle: all.indexOf(c) * 10 + 2,
        endHandle: all.indexOf(c) * 10 + 9,
      }));
      this.#later('characteristicsDiscovered', id, service, raw);
    }
    const byUuid = new Map(inside.map((c) => [c.uuid, { uuid: c.uuid, properties: c.properties }]));
    this.#later('characteristicsDiscover', id, service, [...byUuid.values()]);
  }

  discoverDescriptors(id: string, service: string, uuid: string): void {
    const names = Object.keys(this.#find(id, service, uuid).descriptors ?? {});
    this.#later('descriptorsDiscover', id, service, uuid, names);
  }

  readValue(id: string, service: string, uuid: string, descriptor: string): void {
    const value = this.#find(id, service, uuid).descriptors?.[descriptor] ?? Buffer.alloc(0);
    this.#later('valueRead', id, service, uuid, descriptor, value);
  }

  read(id: string, service: string, uuid: string): void {
    if (!this.#connected.has(id)) return;
    this.#later('read', id, service, uuid, this.#find(id, service, uuid).value, false);
  }

  notify(id: string, service: string, uuid: string, on: boolean): void {
    const c = this.#find(id, service, uuid);
    if (c.refusesSubscription === true) return;
    c.subscribed = on;
    this.#names.set(c, [service, uuid]);
    this.#later('notify', id, service, uuid, on);
  }

  readonly #names = new Map<FakeCharacteristic, readonly [string, string]>();

  /** The sensor sends a value to those who subscribed. */
  send(id: string, c: FakeCharacteristic, value: Buffer): void {
    c.value = value;
    const names = this.#names.get(c);
    if (names === undefined || c.subscribed !== true || !this.#connected.has(id)) return;
    this.emit('read', id, names[0], names[1], value, true);
  }

  /** Ends the timers, so that a test's process can end. */
  quiet(): void {
    this.stopScanning();
    this.removeAllListeners();
  }

  #find(id: string, service: string, uuid: string): FakeCharacteristic {
    const all = this.#peripheral(id).characteristics;
    const handle = uuid.split('@')[1];
    const found =
      handle === undefined
        ? all.findLast((c) => c.uuid === uuid && c.service === service)
        : all[(Number(handle) - 2) / 10];
    if (found === undefined) throw new Error(`no characteristic ${service} ${uuid}`);
    return found;
  }

  #peripheral(id: string): FakePeripheral {
    const found = this.#options.peripherals.find((p) => p.id === id);
    if (found === undefined) throw new Error(`no peripheral ${id}`);
    return found;
  }

  #advertise(): void {
    for (const p of this.#options.peripherals) {
      if (this.#connected.has(p.id)) continue;
      const advertisement = {
        localName: p.name,
        serviceUuids: [...new Set(p.characteristics.map((c) => c.service))],
        serviceData: p.serviceData ?? [],
      };
      this.emit('discover', p.id, p.id, 'random', true, advertisement, -55, false);
    }
  }

  #later(event: string, ...args: unknown[]): void {
    setImmediate(() => this.emit(event, ...args));
  }
}
