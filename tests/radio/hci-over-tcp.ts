import { EventEmitter } from 'node:events';
import { connect, type Socket } from 'node:net';
import type { Noble } from '../../electron/radio/noble-types.ts';
import { requireNoble } from '../support/noble-sources.ts';
import { nobleWith } from './noble-with.ts';

/** HCI packet types of the UART transport that come from a controller. */
const ACL = 0x02;
const EVENT = 0x04;

/**
 * The interface of noble's HCI socket over TCP, for tests: carries HCI packets between noble's own
 * HCI code and a virtual controller of another Bluetooth stack.
 */
class TcpHciSocket extends EventEmitter {
  readonly #port: number;
  #socket: Socket | null = null;
  #buffer: Buffer = Buffer.alloc(0);
  #up = false;

  constructor(port: number) {
    super();
    this.#port = port;
  }

  bindRaw(): number {
    return 0;
  }

  bindUser(): number {
    return 0;
  }

  setFilter(): void {
    // A virtual controller sends to one host only.
  }

  isDevUp(): boolean {
    return this.#up;
  }

  start(): void {
    if (this.#socket !== null) return;
    const socket = connect(this.#port, '127.0.0.1', () => {
      this.#up = true;
    });
    this.#socket = socket;
    socket.setNoDelay(true);
    socket.on('data', (data) => this.#onData(data));
    socket.on('close', () => {
      this.#up = false;
    });
    socket.on('error', (error) => this.emit('error', error));
  }

  stop(): void {
    this.#socket?.destroy();
    this.#socket = null;
  }

  write(packet: Buffer): void {
    this.#socket?.write(packet);
  }

  #onData(data: Buffer): void {
    this.#buffer = Buffer.concat([this.#buffer, data]);
    for (;;) {
      const length = packetLength(this.#buffer);
      if (length === null || this.#buffer.length < length) return;
      const packet = this.#buffer.subarray(0, length);
      this.#buffer = this.#buffer.subarray(length);
      this.emit('data', Buffer.from(packet));
    }
  }
}

function packetLength(buffer: Buffer): number | null {
  if (buffer.length < 5) return null;
  const kind = buffer.readUInt8(0);
  if (kind === EVENT) return 3 + buffer.readUInt8(2);
  if (kind === ACL) return 5 + buffer.readUInt16LE(3);
  throw new Error(`packet type ${kind} from the controller`);
}

/** noble with its own HCI, L2CAP, ATT and GATT code, over a controller that listens on a port. */
export function nobleOver(port: number): Noble {
  const require = requireNoble();
  const native = require.resolve('@abandonware/bluetooth-hci-socket', {
    paths: [require.resolve('@abandonware/noble/package.json')],
  });
  class Bound extends TcpHciSocket {
    constructor() {
      super(port);
    }
  }
  require.cache[native] = {
    id: native,
    filename: native,
    loaded: true,
    exports: Bound,
  } as NodeJS.Module;
  const Bindings = require('@abandonware/noble/lib/hci-socket/bindings.js') as new (
    options: object,
  ) => unknown;
  return nobleWith(new Bindings({}));
}
