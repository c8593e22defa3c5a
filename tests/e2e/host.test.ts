import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { closeBrowser, connect, openPage, startHost, type Host } from './harness.ts';

let host: Host;
beforeAll(async () => {
  host = await startHost();
});
afterAll(async () => {
  await closeBrowser();
  await host.stop();
});

interface Answer {
  readonly status: number;
  readonly headers: NodeJS.Dict<string | string[]>;
  readonly body: string;
}

/** A request as it is written: no client tidies its path or headers. */
function ask(path: string, headers: Record<string, string> = {}, method = 'GET'): Promise<Answer> {
  const { hostname, port } = new URL(host.url);
  return new Promise((resolve, reject) => {
    const sent = request({ hostname, port, path, method, headers }, (response) => {
      let body = '';
      response.on('data', (data: Buffer) => (body += data.toString()));
      response.on('end', () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
      );
    });
    sent.on('error', reject);
    sent.end();
  });
}

/** Whether the bridge opens for a socket with this key, Origin and Host. */
function opens(options: { key: string; origin?: string; host?: string }): Promise<boolean> {
  const { host: real } = new URL(host.url);
  const socket = new WebSocket(`ws://${real}/bridge`, ['stillpoint', `key.${options.key}`], {
    ...(options.origin === undefined ? {} : { origin: options.origin }),
    headers: options.host === undefined ? {} : { Host: options.host },
  });
  return new Promise((resolve) => {
    socket.on('open', () => {
      socket.close();
      resolve(true);
    });
    socket.on('error', () => resolve(false));
  });
}

describe('the loopback host', () => {
  const key = (): string => new URL(host.url).hash.slice('#key='.length);

  it('opens the bridge to its own page with the key, and to nobody else', async () => {
    const { origin, host: name } = new URL(host.url);
    expect(await opens({ key: key(), origin })).toBe(true);
    expect(await opens({ key: 'wrong', origin })).toBe(false);
    expect(await opens({ key: '', origin })).toBe(false);
    expect(await opens({ key: `${key()}x`, origin })).toBe(false);
    expect(await opens({ key: key() })).toBe(false);
    expect(await opens({ key: key(), origin: 'http://127.0.0.1:1' })).toBe(false);
    expect(await opens({ key: key(), origin: 'https://example.org' })).toBe(false);
    expect(await opens({ key: key(), origin, host: 'example.org' })).toBe(false);
    expect(await opens({ key: key(), origin, host: `localhost:${name.split(':')[1] ?? ''}` })).toBe(
      false,
    );
  });

  it('serves pages under a policy that allows only its own files', async () => {
    const answer = await ask('/');
    expect(answer.status).toBe(200);
    expect(answer.body).toContain('<div id="root">');
    const policy = String(answer.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).not.toMatch(/unsafe|\*|https?:/);
    expect(answer.headers['x-content-type-options']).toBe('nosniff');
    expect(answer.headers['access-control-allow-origin']).toBeUndefined();
  });

  it('refuses another Host and another Origin', async () => {
    expect((await ask('/', { Host: 'example.org' })).status).toBe(403);
    expect((await ask('/', { Origin: 'https://example.org' })).status).toBe(403);
    expect((await ask('/', {}, 'POST')).status).toBe(405);
  });

  it.each([
    '/../package.json',
    '/assets/../../../package.json',
    '/..%2f..%2fpackage.json',
    '/%2e%2e/%2e%2e/package.json',
    '/assets/..\\..\\..\\package.json',
    '//etc/passwd',
    '/etc/passwd',
    '/index.html%00.png',
    '/main/start.js',
  ])('gives nothing outside the screens: %s', async (path) => {
    const answer = await ask(path);
    expect(answer.status).toBe(404);
    expect(answer.body).toBe('There is no such page.');
  });

  it('shows its page in a browser without an error, and the key leaves the address', async () => {
    const { page, problems, close } = await openPage(host);
    await page.waitForSelector('#root > *');
    expect(page.url()).toBe(`${host.origin}/`);
    await page.reload();
    await page.waitForSelector('#root > *');
    expect(problems()).toEqual([]);
    await close();
  });

  it('answers through the client the screens use', async () => {
    const bridge = connect(host);
    const info = await bridge.call('app.info', {});
    expect(info).toMatchObject({ ok: true, value: { host: 'loopback' } });
  });
});
