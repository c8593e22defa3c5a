import type { EventName } from './events.ts';

/** What a transport offers the client. */
export interface Link {
  /** Resolves with a `Result`. */
  request(name: string, args: unknown): Promise<unknown>;
  acknowledge(n: number): void;
}

/** An event as it arrives. */
export interface Incoming {
  readonly event: EventName;
  readonly payload: unknown;
  /** A number asks to be acknowledged. */
  readonly n?: number;
}
