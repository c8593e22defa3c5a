import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import {
  app,
  BrowserWindow,
  Menu,
  Notification,
  protocol,
  session,
  utilityProcess,
} from 'electron';
import { APP_ORIGIN, serveIpc } from './bridge/ipc.ts';
import { listStaticFiles, securityHeaders, type StaticFiles } from './bridge/static-files.ts';
import { programRoot } from './host/root.ts';
import { radioEntry, utilitySpawner } from './radio/spawner.ts';
import { createServices } from './services/app.ts';

const ROOT = programRoot(import.meta.dirname);
const SCHEME = 'app';

/** Before anything else: every renderer in a sandbox, one program at a time. */
app.enableSandbox();
protocol.registerSchemesAsPrivileged([
  { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
]);

/** Answers for our own scheme from the list of files; nothing else is ever read. */
async function serveScreens(files: StaticFiles, url: string): Promise<Response> {
  const { host, pathname } = new URL(url);
  const file = `${SCHEME}://${host}` === APP_ORIGIN ? files(pathname) : null;
  const headers = securityHeaders(null);
  if (file === null) return new Response('There is no such page.', { status: 404, headers });
  const body = new Uint8Array(await readFile(file.path));
  return new Response(body, { headers: { ...headers, 'Content-Type': file.type } });
}

/** Nothing outside the program is loaded, opened or permitted. */
function lockDown(): void {
  session.defaultSession.setPermissionRequestHandler((_contents, _permission, answer) =>
    answer(false),
  );
  session.defaultSession.setPermissionCheckHandler(() => false);
  session.defaultSession.setDevicePermissionHandler(() => false);
  app.on('web-contents-created', (_event, contents) => {
    contents.on('will-navigate', (event) => event.preventDefault());
    contents.on('will-redirect', (event) => event.preventDefault());
    contents.on('will-attach-webview', (event) => event.preventDefault());
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  });
}

function openWindow(): BrowserWindow {
  const window = new BrowserWindow({
    width: 1366,
    height: 768,
    minWidth: 900,
    minHeight: 600,
    title: 'Stillpoint',
    show: false,
    webPreferences: {
      preload: join(ROOT, 'out/preload/preload.cjs'),
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      // It calls out when a unit settles, also when nobody has touched the window yet.
      autoplayPolicy: 'no-user-gesture-required',
      // A window behind another one must go on drawing and calling.
      backgroundThrottling: false,
    },
  });
  window.once('ready-to-show', () => window.show());
  void window.loadURL(`${APP_ORIGIN}/index.html`);
  return window;
}

/** The whole program under Electron. */
function run(): void {
  const services = createServices({
    host: 'electron',
    root: ROOT,
    env: process.env,
    spawnRadio: () => utilitySpawner(utilityProcess, radioEntry(ROOT)),
  });
  const files = listStaticFiles(join(ROOT, 'out/renderer'));
  protocol.handle(SCHEME, (request) => serveScreens(files, request.url));
  lockDown();
  Menu.setApplicationMenu(null);
  serveIpc({ ...services, report: (what, error) => services.log.error(what, error) });
  services.hub.subscribe((event) => {
    if (event.name === 'callout' && Notification.isSupported()) {
      new Notification({ title: 'Stillpoint', body: event.payload.text }).show();
    }
  });

  let window = openWindow();
  app.on('second-instance', () => {
    if (window.isDestroyed()) window = openWindow();
    if (window.isMinimized()) window.restore();
    window.focus();
  });
  app.on('window-all-closed', () => app.quit());
  let closed = false;
  app.on('before-quit', (event) => {
    if (closed) return;
    event.preventDefault();
    closed = true;
    services
      .close()
      .catch((error: unknown) => services.log.error('closing', error))
      .finally(() => app.quit());
  });
}

if (app.requestSingleInstanceLock()) void app.whenReady().then(run);
else app.quit();
