import { createStore, type StoreApi } from 'zustand/vanilla';
import type { Answers } from '../../core/record/answers.ts';
import type { AppInfo, JobView, SessionView, Settings } from '../../electron/bridge/views.ts';
import type { Events } from '../../electron/bridge/events.ts';
import type { Bridge } from '../../electron/bridge/client.ts';
import { share } from './share.ts';
import { createStandingFollower, type StandingBook } from './standing.ts';

/** The rooms of the program, in the order of the navigation. */
export const ROOMS = ['watch', 'job', 'review', 'sensors'] as const;
export type Room = (typeof ROOMS)[number];
export type Role = SessionView['role'];

/** Something the person should read; errors stay until dismissed. */
export interface Notice {
  readonly id: number;
  readonly level: Events['notice']['level'];
  readonly text: string;
}

/** All the renderer knows. Parts keep their identity while they are equal (see `share`). */
export interface AppState {
  readonly info: AppInfo | null;
  readonly settings: Settings;
  readonly job: JobView | null;
  readonly live: SessionView | null;
  readonly review: SessionView | null;
  /** How fast the pressures of units that are off still move. */
  readonly standing: StandingBook;
  /** Answers on their way into the record, by job and unit. */
  readonly asked: Readonly<Record<string, Answers>>;
  readonly notices: readonly Notice[];
  readonly room: Room;
  /** False until the host has answered the first questions. */
  readonly ready: boolean;
}

export type AppStore = StoreApi<AppState>;

const START: AppState = {
  info: null,
  settings: { units: 'us', author: '', sound: true },
  job: null,
  live: null,
  review: null,
  standing: {},
  asked: {},
  notices: [],
  room: 'job',
  ready: false,
};
const MAX_NOTICES = 4;

/** An empty store. */
export function createAppStore(): AppStore {
  return createStore<AppState>(() => START);
}

/** Puts new parts in, keeping the identity of what did not change. */
export function put(store: AppStore, part: Partial<AppState>): void {
  store.setState((old) => {
    const shared: Record<string, unknown> = {};
    for (const [key, value] of Object.entries(part)) {
      shared[key] = share(old[key as keyof AppState] as unknown, value);
    }
    return shared;
  });
}

let noticeId = 0;

/** So long information stands, ms. */
const INFO_MS = 6000;

/**
 * Shows a notice; the same text is not shown twice at once. Information goes by itself, wherever it is
 * shown by then; warnings and errors stay until dismissed.
 */
export function notify(store: AppStore, level: Notice['level'], text: string): void {
  const kept = store.getState().notices.filter((n) => n.text !== text);
  noticeId += 1;
  const id = noticeId;
  put(store, { notices: [...kept, { id, level, text }].slice(-MAX_NOTICES) });
  if (level === 'info') setTimeout(() => dismiss(store, id), INFO_MS);
}

/** Takes a notice away. */
export function dismiss(store: AppStore, id: number): void {
  put(store, { notices: store.getState().notices.filter((n) => n.id !== id) });
}

/** Listens to the host. Returns the call that ends all listening. */
export function listen(store: AppStore, bridge: Bridge): () => void {
  const follower = createStandingFollower();
  const offs = [
    bridge.on('session', (view) =>
      put(store, { [view.role]: view, standing: follower.take(view) }),
    ),
    bridge.on('sessionClosed', ({ role }) =>
      put(store, { [role]: null, standing: follower.drop(role) }),
    ),
    bridge.on('job', (job) => put(store, { job })),
    bridge.on('notice', ({ level, text }) => notify(store, level, text)),
  ];
  return () => offs.forEach((off) => off());
}

/** Asks the host for everything the first screen needs. */
export async function load(store: AppStore, bridge: Bridge): Promise<void> {
  const [info, settings, job, live, review] = await Promise.all([
    bridge.call('app.info', {}),
    bridge.call('settings.get', {}),
    bridge.call('job.current', {}),
    bridge.call('session.current', { role: 'live' }),
    bridge.call('session.current', { role: 'review' }),
  ]);
  const session = live.ok ? live.value : null;
  put(store, {
    ...(info.ok ? { info: info.value } : {}),
    ...(settings.ok ? { settings: settings.value } : {}),
    job: job.ok ? job.value : null,
    live: session,
    review: review.ok ? review.value : null,
    room: session === null ? 'job' : 'watch',
    ready: true,
  });
}
