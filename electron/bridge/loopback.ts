import { randomBytes, timingSafeEqual } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Duplex } from 'node:stream';
import { WebSocketServer, type WebSocket } from 'ws';
import { z } from 'zod';
import type { Handlers } from './handlers.ts';
import type { Hub, HubEvent } from './hub.ts';
import { createOutbox } from './outbox.ts';
import { KEY_PREFIX, SOCKET_PATH, SOCKET_PROTOCOL } from './socket-client.ts';
import { securityHeaders, type StaticFiles } from './static-files.ts';

/** Room for the largest command: its text takes up to six bytes a character in JSON. */
const MAX_MESSAGE_BYTES = 32 * 1024 * 1024;
const TICKET_LIFE_MS = 60_000;

/** The host that serves the screens to this machine only. */
export interface LoopbackHost {
  readonly origin: string;
  /** The address for a person: it carries the key behind `#` and works until the host ends. */
  readonly address: string;
  /**
   * An address that works once within a minute: for the command line of a browser, which other
   * users of this machine may be able to read.
   */
  readonly ticketAddress: () => string;
  close(): Promise<void>;
}

interface LoopbackOptions {
  readonly handlers: Handlers;
  readonly hub: Hub;
  readonly files: StaticFiles;
  /** The events that tell a new client how things stand. */
  readonly greet: () => readonly HubEvent[];
  readonly report: (what: string, error: unknown) => void;
}

const FromClient = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('call'),
    id: z.number().int(),
    name: z.string(),
    args: z.unknown(),
  }),
  z.strictObject({ kind: z.literal('ack'), n: z.number().int() }),
]);

/**
 * Serves the screens on 127.0.0.1 at a free port. Static files are the program's own and go to
 * whoever asks with the right Host. The bridge opens only for a WebSocket whose Host and Origin are
 * this host's and which knows the key: 256 random bits, made anew at each start. The key travels in
 * the fragment of the address (a browser sends it to nobody), then in the WebSocket's subprotocol;
 * it is never in a cookie, because cookies of 127.0.0.1 go to every port.
 */
export async function startLoopback(options: LoopbackOptions): Promise<LoopbackHost> {
  const server = createServer();
  await listen(server);
  const port = (server.address() as AddressInfo).port;
  const host = `127.0.0.1:${port}`;
  const origin = `http://${host}`;
  const keys = createKeys();
  const headers = securityHeaders(`ws://${host}`);
  const sockets = new WebSocketServer({
    noServer: true,
    maxPayload: MAX_MESSAGE_BYTES,
    handleProtocols: () => SOCKET_PROTOCOL,
  });

  server.on('request', (request, response) => {
    serveFile(request, response, { host, origin, headers, files: options.files }).catch(
      (error: unknown) => {
        options.report('static file', error);
        response.destroy();
      },
    );
  });
  server.on('upgrade', (request, socket, head) => {
    const known =
      request.headers.host === host &&
      request.headers.origin === origin &&
      request.url === SOCKET_PATH
        ? keys.admit(keyOf(request))
        : null;
    if (known === null) {
      refuseUpgrade(socket);
      return;
    }
    sockets.handleUpgrade(request, socket, head, (client) => {
      if (known === 'ticket') client.send(JSON.stringify({ kind: 'key', key: keys.key }));
      serveClient(client, options);
    });
  });

  return {
    origin,
    address: `${origin}/#key=${keys.key}`,
    ticketAddress: () => `${origin}/#key=${keys.ticket()}`,
    async close() {
      for (const client of sockets.clients) client.terminate();
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}

async function listen(server: Server): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(0, '127.0.0.1', resolve);
  });
}

/** The key of this run and the tickets that can be changed for it once. */
function createKeys() {
  const key = randomBytes(32).toString('base64url');
  const tickets = new Map<string, number>();
  return {
    key,
    ticket(): string {
      const ticket = randomBytes(32).toString('base64url');
      tickets.set(ticket, Date.now() + TICKET_LIFE_MS);
      return ticket;
    },
    admit(shown: string): 'key' | 'ticket' | null {
      if (same(shown, key)) return 'key';
      const until = tickets.get(shown);
      tickets.delete(shown);
      return until !== undefined && Date.now() <= until ? 'ticket' : null;
    },
  };
}

function same(a: string, b: string): boolean {
  const left = Buffer.from(a);
  const right = Buffer.from(b);
  return left.length === right.length && timingSafeEqual(left, right);
}

function keyOf(request: IncomingMessage): string {
  const offered = (request.headers['sec-websocket-protocol'] ?? '').split(',').map((p) => p.trim());
  if (!offered.includes(SOCKET_PROTOCOL)) return '';
  return offered.find((p) => p.startsWith(KEY_PREFIX))?.slice(KEY_PREFIX.length) ?? '';
}

function refuseUpgrade(socket: Duplex): void {
  socket.end('HTTP/1.1 403 Forbidden\r\nConnection: close\r\nContent-Length: 0\r\n\r\n');
}

interface Site {
  readonly host: string;
  readonly origin: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly files: StaticFiles;
}

async function serveFile(
  request: IncomingMessage,
  response: ServerResponse,
  site: Site,
): Promise<void> {
  const answer = (status: number, type: string, body: string | Buffer): void => {
    response.writeHead(status, { ...site.headers, 'Content-Type': type });
    response.end(request.method === 'HEAD' ? undefined : body);
  };
  const text = 'text/plain; charset=utf-8';
  const from = request.headers.origin;
  if (request.headers.host !== site.host || (from !== undefined && from !== site.origin)) {
    answer(403, text, 'This address serves its own pages only.');
    return;
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    answer(405, text, 'Only GET.');
    return;
  }
  const file = site.files((request.url ?? '').split('?')[0] ?? '');
  if (file === null) answer(404, text, 'There is no such page.');
  else answer(200, file.type, await readFile(file.path));
}

/** Joins one client with the handlers and the hub until it goes. */
function serveClient(client: WebSocket, options: LoopbackOptions): void {
  const outbox = createOutbox((message) =>
    client.send(JSON.stringify({ kind: 'event', ...message })),
  );
  const unsubscribe = options.hub.subscribe((event) => outbox.post(event));
  client.on('close', unsubscribe);
  client.on('error', (error) => options.report('client socket', error));
  client.on('message', (data) => {
    const message = parse(data);
    if (message === null) {
      client.close(1008, 'not understood');
    } else if (message.kind === 'ack') {
      outbox.acknowledge(message.n);
    } else {
      void options.handlers.dispatch(message.name, message.args).then((result) => {
        client.send(JSON.stringify({ kind: 'result', id: message.id, result }));
      });
    }
  });
  for (const event of options.greet()) outbox.post(event);
}

function parse(data: unknown): z.infer<typeof FromClient> | null {
  if (!(data instanceof Buffer)) return null;
  try {
    const parsed = FromClient.safeParse(JSON.parse(data.toString('utf8')));
    return parsed.success ? parsed.data : null;
  } catch {
    return null;
  }
}
