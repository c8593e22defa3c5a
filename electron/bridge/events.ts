import type { JobView, SessionView } from './views.ts';

/** What the host tells the renderer unasked. At most 10 `session` events a second and role. */
export interface Events {
  session: SessionView;
  /** A session (live or review) is over or was closed. */
  sessionClosed: { readonly role: 'live' | 'review' };
  job: JobView | null;
  /** A unit came to rest, or left it: for sound, notification and title. */
  callout: { readonly unit: string; readonly kind: 'settled' | 'disturbed'; readonly text: string };
  /** Something the person should read. */
  notice: { readonly level: 'info' | 'warning' | 'error'; readonly text: string };
}

export type EventName = keyof Events;
