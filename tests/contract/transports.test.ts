import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { fail, ok } from '../../core/result.ts';
import { connectBridge, type Bridge, type BridgePage } from '../../electron/bridge/client.ts';
import { failure } from '../../electron/bridge/errors.ts';
import { createHandlers, type Handlers } from '../../electron/bridge/handlers.ts';
import { createHub, type Hub, type HubEvent } from '../../electron/bridge/hub.ts';
import { startLoopback } from '../../electron/bridge/loopback.ts';
import { listStaticFiles } from '../../electron/bridge/static-files.ts';
import type { SessionView } from '../../electron/bridge/views.ts';
import { nodePage } from '../support/node-page.ts';

const fake = await vi.hoisted(async () =>
  (await import('../support/fake-electron.ts')).fakeElectron(),
);
vi.mock('electron', () => fake.electron);

interface Joined {
  readonly bridge: Bridge;
  close(): Promise<void>;
}

interface Program {
  readonly handlers: Handlers;
  readonly hub: Hub;
  readonly greet: () => readonly HubEvent[];
  readonly reports: string[];
}

const view: SessionView = {
  role: 'live',
  sessionId: 's',
  origin: '2026-01-01T00:00:00.000Z',
  source: { kind: 'manual', label: 'typed' },
  capabilities: ['enter'],
  health: { state: 'running', alert: null },
  playback: null,
  units: [],
  overflow: 0,
};

/** A program whose commands bring out what a transport could spoil. */
function program(): Program {
  const reports: string[] = [];
  const report = (what: string): void => void reports.push(what);
  const handlers = createHandlers(report);
  const hub = createHub(report);
  handlers.handle('settings.set', (args) => ok(args));
  handlers.handle('job.current', () => fail(failure('NO_JOB')));
  handlers.handle('session.stop', () => {
    throw new Error('inside');
  });
  handlers.handle('trend.query', (args) =>
    ok([
      {
        key: args.keys[0] ?? '',
        points: [
          [0.1 + 0.2, 5e-324],
          [1e300, null],
        ],
      },
    ]),
  );
  return { handlers, hub, greet: () => [{ name: 'job', payload: null }], reports };
}

async function overLoopback(the: Program): Promise<Joined> {
  const root = mkdtempSync(join(tmpdir(), 'screens-'));
  mkdirSync(join(root, 'assets'));
  writeFileSync(join(root, 'index.html'), '<!doctype html>');
  const host = await startLoopback({
    ...the,
    files: listStaticFiles(root),
    report: (what) => the.reports.push(what),
  });
  return { bridge: connectBridge(nodePage(host.ticketAddress())), close: () => host.close() };
}

async function overIpc(the: Program): Promise<Joined> {
  const { serveIpc } = await import('../../electron/bridge/ipc.ts');
  const end = serveIpc({ ...the, report: (what) => the.reports.push(what) });
  vi.resetModules();
  await import('../../electron/preload.ts');
  const page = { stillpoint: fake.state.exposed.get('stillpoint') } as unknown as BridgePage;
  return {
    bridge: connectBridge(page),
    close: () => {
      end();
      return Promise.resolve();
    },
  };
}

const settings = { units: 'us', author: 'Zoë "Ω" \u2028 <script>', sound: true } as const;
const query = { role: 'live', unit: 'A', from: 0, to: 1, points: 16 } as const;

describe.each([
  ['loopback', overLoopback],
  ['ipc', overIpc],
])('the bridge over %s', (_name, join) => {
  let joined: Joined | null = null;
  afterEach(async () => {
    await joined?.close();
    joined = null;
  });

  it('gives results and failures as the handlers gave them, to the last bit', async () => {
    joined = await join(program());
    const { bridge } = joined;
    expect(await bridge.call('settings.set', settings)).toEqual(ok(settings));
    expect(await bridge.call('job.current', {})).toEqual(fail(failure('NO_JOB')));
    expect(await bridge.call('trend.query', { ...query, keys: ['superheat'] })).toEqual(
      ok([
        {
          key: 'superheat',
          points: [
            [0.1 + 0.2, 5e-324],
            [1e300, null],
          ],
        },
      ]),
    );
  });

  it('gives wrong arguments, unknown commands and inner failures as data', async () => {
    const the = program();
    joined = await join(the);
    const { bridge } = joined;
    const wrong = await bridge.call('settings.set', { units: 'x' } as never);
    expect(wrong).toMatchObject({ ok: false, error: { code: 'BAD_ARGUMENTS' } });
    const unknown = await bridge.call('no.such' as never, {} as never);
    expect(unknown).toMatchObject({ ok: false, error: { code: 'UNKNOWN_COMMAND' } });
    const inner = await bridge.call('session.stop', {});
    expect(inner).toEqual(fail(failure('INTERNAL', { detail: 'inside' })));
    expect(the.reports).toEqual(['command session.stop']);
  });

  it('matches many answers with their calls', async () => {
    joined = await join(program());
    const { bridge } = joined;
    const keys = Array.from({ length: 100 }, (_, i) => `key${i}`);
    const results = await Promise.all(
      keys.map((key) => bridge.call('trend.query', { ...query, keys: [key] })),
    );
    expect(results.map((r) => (r.ok ? r.value[0]?.key : null))).toEqual(keys);
  });

  it('greets a client, tells it events in order and stops when asked to', async () => {
    const the = program();
    joined = await join(the);
    const { bridge } = joined;
    const heard: [string, unknown][] = [];
    bridge.on('job', (job) => heard.push(['job', job]));
    const off = bridge.on('notice', (notice) => heard.push(['notice', notice.text]));
    bridge.on('sessionClosed', (closed) => heard.push(['closed', closed.role]));
    await bridge.call('job.current', {});
    the.hub.emit('notice', { level: 'info', text: 'one' });
    await vi.waitFor(() => expect(heard).toContainEqual(['notice', 'one']), 5000);
    off();
    the.hub.emit('notice', { level: 'info', text: 'two' });
    the.hub.emit('sessionClosed', { role: 'live' });
    await vi.waitFor(() => expect(heard).toContainEqual(['closed', 'live']), 5000);
    expect(heard.filter(([what]) => what === 'notice')).toEqual([['notice', 'one']]);
  });

  it('brings the latest view to a client that was busy, and counts what it dropped', async () => {
    const the = program();
    joined = await join(the);
    const { bridge } = joined;
    const heard: SessionView[] = [];
    bridge.on('session', (session) => heard.push(session));
    await bridge.call('job.current', {});
    const total = 50;
    for (let i = 1; i <= total; i += 1) {
      the.hub.emit('session', { ...view, sessionId: `s${i}` });
    }
    await vi.waitFor(() => expect(heard.at(-1)?.sessionId).toBe(`s${total}`), 5000);
    expect(heard.length + (heard.at(-1)?.overflow ?? 0)).toBe(total);
  });
});

describe('the ipc adapter', () => {
  it.each([
    ['another origin', { url: 'https://example.org/' }],
    ['a look-alike', { url: 'app://stillpoint.example.org/' }],
    ['a frame inside the page', { url: 'app://stillpoint/index.html' }],
    ['a nonsense address', { url: 'nonsense' }],
    ['a frame that is gone', null],
  ])('does not listen to %s', async (_name, frame) => {
    const the = program();
    const joined = await overIpc(the);
    fake.state.senderFrame = frame;
    try {
      const result = await joined.bridge.call('settings.set', settings);
      expect(result).toMatchObject({ ok: false, error: { code: 'BAD_ARGUMENTS' } });
      expect(the.reports).toEqual(['foreign sender']);
    } finally {
      fake.state.senderFrame = fake.state.contents.mainFrame;
      await joined.close();
    }
  });

  it('shows the page three calls and nothing of Electron', async () => {
    const joined = await overIpc(program());
    expect([...fake.state.exposed.keys()]).toEqual(['stillpoint']);
    const api = fake.state.exposed.get('stillpoint') as Record<string, unknown>;
    expect(Object.keys(api).sort()).toEqual(['acknowledge', 'call', 'onEvent']);
    await joined.close();
  });
});

describe('the socket client', () => {
  it('fails waiting calls when the host goes, and says so once', async () => {
    const the = program();
    let open = (): void => undefined;
    the.handlers.handle('job.close', async () => {
      await new Promise<void>((resolve) => (open = resolve));
      return ok(null);
    });
    const first = await overLoopback(the);
    const notices: string[] = [];
    first.bridge.on('notice', (notice) => notices.push(notice.level));
    await first.bridge.call('job.current', {});
    const waiting = first.bridge.call('job.close', {});
    await first.bridge.call('trend.query', { ...query, keys: ['a'] });
    await first.close();
    expect(await waiting).toEqual(fail(failure('DISCONNECTED')));
    expect(notices).toEqual(['error']);
    open();
  });

  it('changes a ticket for the key once; the ticket is then worth nothing', async () => {
    const the = program();
    const root = mkdtempSync(join(tmpdir(), 'screens-'));
    writeFileSync(join(root, 'index.html'), '');
    const host = await startLoopback({
      ...the,
      files: listStaticFiles(root),
      report: () => undefined,
    });
    const address = host.ticketAddress();
    const bridge = connectBridge(nodePage(address));
    expect(await bridge.call('job.current', {})).toEqual(fail(failure('NO_JOB')));
    const again = connectBridge(nodePage(address));
    expect(await again.call('job.current', {})).toEqual(fail(failure('DISCONNECTED')));
    const byKey = connectBridge(nodePage(host.address));
    expect(await byKey.call('job.current', {})).toEqual(fail(failure('NO_JOB')));
    await host.close();
  });
});
