import { describe, expect, it } from 'vitest';
import { connectBridge, type BridgePage } from '../../../../electron/bridge/client.ts';

/** A socket that a test opens, feeds and breaks. */
class FakeSocket {
  readonly url: string;
  readonly protocols: readonly string[];
  readonly sent: string[] = [];
  onopen: (() => void) | null = null;
  onmessage: ((event: { data: string }) => void) | null = null;
  onclose: (() => void) | null = null;

  constructor(url: string, protocols: readonly string[]) {
    this.url = url;
    this.protocols = protocols;
  }
  send(text: string): void {
    this.sent.push(text);
  }
  say(message: unknown): void {
    this.onmessage?.({ data: JSON.stringify(message) });
  }
}

/** A page whose sockets and timers a test holds in its hands. */
function page(hash: string, stored = new Map<string, string>()) {
  const sockets: FakeSocket[] = [];
  const timers: { fn: () => void; ms: number }[] = [];
  const addresses: string[] = [];
  class PageSocket extends FakeSocket {
    constructor(url: string, protocols: readonly string[]) {
      super(url, protocols);
      sockets.push(this);
    }
  }
  const bridge = connectBridge({
    location: { hash, host: '127.0.0.1:5000', pathname: '/' },
    history: { replaceState: (_data, _unused, url) => addresses.push(url) },
    sessionStorage: {
      getItem: (key) => stored.get(key) ?? null,
      setItem: (key, value) => stored.set(key, value),
    },
    WebSocket: PageSocket as unknown as BridgePage['WebSocket'],
    setTimeout: (fn, ms) => timers.push({ fn, ms }),
  });
  const notices: string[] = [];
  bridge.on('notice', ({ level }) => notices.push(level));
  return { bridge, sockets, timers, addresses, stored, notices, last: () => sockets.at(-1)! };
}

describe('the socket client', () => {
  it('takes the key out of the address, keeps it for a reload, and shows it as a subprotocol', () => {
    const first = page('#key=abc-DEF_1');
    expect(first.addresses).toEqual(['/']);
    expect(first.last().url).toBe('ws://127.0.0.1:5000/bridge');
    expect(first.last().protocols).toEqual(['stillpoint', 'key.abc-DEF_1']);
    const reloaded = page('', first.stored);
    expect(reloaded.last().protocols).toEqual(['stillpoint', 'key.abc-DEF_1']);
    expect(reloaded.addresses).toEqual([]);
  });

  it('changes a ticket for the key it is given', () => {
    const { stored, last, timers, sockets } = page('#key=ticket');
    last().onopen?.();
    last().say({ kind: 'key', key: 'lasting' });
    expect([...stored.values()]).toEqual(['lasting']);
    last().onclose?.();
    timers[0]!.fn();
    expect(sockets[1]!.protocols).toEqual(['stillpoint', 'key.lasting']);
  });

  it('joins again by itself, more and more slowly, and says it once each way', () => {
    const { last, timers, sockets, notices } = page('#key=k');
    last().onopen?.();
    for (let i = 0; i < 6; i += 1) {
      last().onclose?.();
      timers.at(-1)!.fn();
    }
    expect(timers.map((t) => t.ms)).toEqual([250, 500, 1000, 2000, 4000, 4000]);
    expect(notices).toEqual(['error']);
    last().onopen?.();
    expect(notices).toEqual(['error', 'info']);
    last().onclose?.();
    expect(timers.at(-1)!.ms).toBe(250);
    expect(sockets).toHaveLength(7);
  });

  it('holds calls until it is connected and fails those that a break leaves unanswered', async () => {
    const { bridge, last } = page('#key=k');
    const early = bridge.call('app.info', {});
    expect(last().sent).toEqual([]);
    last().onopen?.();
    expect(last().sent.map((text) => JSON.parse(text) as unknown)).toEqual([
      { kind: 'call', id: 1, name: 'app.info', args: {} },
    ]);
    last().say({ kind: 'result', id: 1, result: { ok: true, value: 'v' } });
    expect(await early).toEqual({ ok: true, value: 'v' });
    const late = bridge.call('app.info', {});
    last().onclose?.();
    expect(await late).toMatchObject({ ok: false, error: { code: 'DISCONNECTED' } });
  });

  it('acknowledges a view after its listeners have had it', () => {
    const { bridge, last } = page('#key=k');
    last().onopen?.();
    let sentBefore = -1;
    bridge.on('session', () => (sentBefore = last().sent.length));
    last().say({ kind: 'event', event: 'session', payload: {}, n: 7 });
    expect(sentBefore).toBe(0);
    expect(last().sent.map((text) => JSON.parse(text) as unknown)).toEqual([{ kind: 'ack', n: 7 }]);
  });

  it('leaves no listener after fifty rounds of coming and going', () => {
    const { bridge, last } = page('#key=k');
    let heard = 0;
    for (let i = 0; i < 50; i += 1) bridge.on('job', () => (heard += 1))();
    last().say({ kind: 'event', event: 'job', payload: null });
    expect(heard).toBe(0);
  });
});
