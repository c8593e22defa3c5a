import { EventEmitter } from 'node:events';
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it, vi } from 'vitest';
import { createServices } from '../../../electron/services/app.ts';

const { electron, asked } = await vi.hoisted(async () =>
  (await import('../../support/fake-electron-app.ts')).fakeElectronApp(),
);
vi.mock('electron', () => electron);

const root = mkdtempSync(join(tmpdir(), 'stillpoint-root-'));
vi.mock('../../../electron/host/root.ts', () => ({ programRoot: () => root }));

vi.mock('../../../electron/services/app.ts', async (original) => {
  const real = await original<{ createServices: typeof createServices }>();
  return { ...real, createServices: vi.fn(real.createServices) };
});

beforeAll(async () => {
  mkdirSync(join(root, 'out/renderer/assets'), { recursive: true });
  mkdirSync(join(root, 'fixtures/scenarios'), { recursive: true });
  writeFileSync(join(root, 'package.json'), JSON.stringify({ version: '9.9.9' }));
  writeFileSync(join(root, 'out/renderer/index.html'), '<!doctype html><title>t</title>');
  vi.stubEnv('STILLPOINT_HOME', join(root, 'home'));
  await import('../../../electron/main.ts');
  await vi.waitFor(() => expect(asked.windows).toHaveLength(1));
});

/** A page as `web-contents-created` hands it over; tells what it was stopped from doing. */
function newPage() {
  const page = Object.assign(new EventEmitter(), {
    setWindowOpenHandler(handler: () => { action: string }) {
      this.open = handler;
    },
    open: (): { action: string } => ({ action: 'allow' }),
  });
  asked.appEvents.emit('web-contents-created', {}, page);
  const prevented = (name: string): boolean => {
    let stopped = false;
    page.emit(name, { preventDefault: () => (stopped = true), url: 'https://example.org' });
    return stopped;
  };
  return { page, prevented };
}

describe('the Electron entry', () => {
  it('puts every renderer into the sandbox before the app is ready', () => {
    expect(asked.order).toEqual(['sandbox', 'ready']);
  });

  it('opens one window without Node, isolated, from its own scheme', () => {
    const [window] = asked.windows;
    expect(window?.options.webPreferences).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      preload: join(root, 'out/preload/preload.cjs'),
    });
    for (const key of ['experimentalFeatures', 'enableBlinkFeatures', 'devTools']) {
      expect(window?.options.webPreferences).not.toHaveProperty(key);
    }
    expect(window?.urls).toEqual(['app://stillpoint/index.html']);
    expect(asked.schemes).toEqual([
      { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
    expect(asked.menu).toBeNull();
  });

  it('serves the screens under the policy and nothing else', async () => {
    const good = await asked.serve!({ url: 'app://stillpoint/index.html' });
    expect(good.status).toBe(200);
    expect(await good.text()).toContain('<title>t</title>');
    const policy = good.headers.get('Content-Security-Policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("connect-src 'self';");
    expect(policy).not.toMatch(/unsafe|ws:/);
    for (const url of [
      'app://stillpoint/../../package.json',
      'app://stillpoint/..%2f..%2fpackage.json',
      'app://other/index.html',
    ]) {
      expect((await asked.serve!({ url })).status).toBe(404);
    }
  });

  it('grants no permission', () => {
    const answers: boolean[] = [];
    for (const permission of ['media', 'notifications', 'geolocation', 'clipboard-read', 'hid']) {
      asked.permission?.({}, permission, (answer) => answers.push(answer));
    }
    expect(answers).toEqual([false, false, false, false, false]);
    expect(asked.permissionCheck?.()).toBe(false);
    expect(asked.device?.()).toBe(false);
  });

  it('stops navigation, redirection, webviews and new windows', () => {
    const { page, prevented } = newPage();
    expect(['will-navigate', 'will-redirect', 'will-attach-webview'].map(prevented)).toEqual([
      true,
      true,
      true,
    ]);
    expect(page.open()).toEqual({ action: 'deny' });
  });

  it('tells the system when a unit calls', () => {
    const { hub } = vi.mocked(createServices).mock.results[0]!.value as ReturnType<
      typeof createServices
    >;
    hub.emit('callout', { unit: 'A', kind: 'settled', text: 'A has come to rest.' });
    expect(asked.notices).toEqual([{ title: 'Stillpoint', body: 'A has come to rest.' }]);
  });

  it('answers its page over the bridge', async () => {
    const answer = await electron.ipcRenderer.invoke('stillpoint:call', 'app.info', '{}');
    expect(JSON.parse(String(answer))).toMatchObject({
      ok: true,
      value: { version: '9.9.9', host: 'electron' },
    });
  });

  it('brings everything to the disk before it quits', async () => {
    const before = asked.order.length;
    let prevented = 0;
    const quit = (): boolean =>
      asked.appEvents.emit('before-quit', { preventDefault: () => (prevented += 1) });
    quit();
    expect(prevented).toBe(1);
    await vi.waitFor(() => expect(asked.order.slice(before)).toEqual(['quit']));
    quit();
    expect(prevented).toBe(1);
  });
});
