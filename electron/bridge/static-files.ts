import { readdirSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.mp3': 'audio/mpeg',
  '.wav': 'audio/wav',
};

/** A file of the screens and its media type. */
export interface StaticFile {
  readonly path: string;
  readonly type: string;
}

/** Looks up the file of a URL path; null where there is none. */
export type StaticFiles = (urlPath: string) => StaticFile | null;

/**
 * Lists the files below a folder once. Only what is in the list is ever read, so no path, however
 * it is spelled, leads out of the folder; links are not followed.
 *
 * @throws Error when the folder cannot be read
 */
export function listStaticFiles(root: string): StaticFiles {
  const files = new Map<string, StaticFile>();
  for (const entry of readdirSync(root, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath, entry.name);
    const type = TYPES[extname(entry.name).toLowerCase()];
    if (type === undefined) continue;
    files.set(`/${relative(root, path).split(sep).join('/')}`, { path, type });
  }
  const index = files.get('/index.html');
  if (index === undefined) throw new Error(`there is no index.html in ${root}`);
  files.set('/', index);
  return (urlPath) => files.get(urlPath) ?? null;
}

/**
 * What every answer of either host carries. Scripts and styles come from the program's own files
 * only: no inline script, no eval, nothing from elsewhere.
 *
 * @param socket where the screens may open a WebSocket; null under Electron, where they need none
 */
export function securityHeaders(socket: string | null): Readonly<Record<string, string>> {
  const policy = [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    "media-src 'self'",
    `connect-src 'self'${socket === null ? '' : ` ${socket}`}`,
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
    "object-src 'none'",
  ];
  return {
    'Content-Security-Policy': policy.join('; '),
    'X-Content-Type-Options': 'nosniff',
    'Referrer-Policy': 'no-referrer',
    'Cross-Origin-Opener-Policy': 'same-origin',
    'Cross-Origin-Resource-Policy': 'same-origin',
    'Permissions-Policy': 'camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=()',
    'Cache-Control': 'no-store',
  };
}
