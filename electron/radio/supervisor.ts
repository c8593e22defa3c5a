import type { RadioClock } from './clock.ts';
import { NoticeSchema, type Notice, type Request } from './messages.ts';
import type { RadioProcess, RadioSpawner } from './spawner.ts';

/** Without a sign of life for this long the process hangs and is ended. */
const HANGS_AFTER_S = 8;
const FIRST_RESTART_S = 0.5;
const LONGEST_RESTART_S = 30;
/** A process that lived this long was well: the next restart is quick again. */
const WELL_AFTER_S = 60;
const CHECK_MS = 1000;
const END_MS = 2000;

/** What the supervisor tells. */
export interface SupervisorEvents {
  onNotice(notice: Notice): void;
  /** The process is new: everything wanted must be said again. */
  onStarted(): void;
  /** The process ended by itself; another is coming. */
  onBroken(why: string): void;
}

/**
 * Keeps one radio process alive: starts it, ends one that hangs, starts another with back-off, and
 * lets through only messages of the agreed form.
 */
export class Supervisor {
  readonly #spawn: RadioSpawner;
  readonly #clock: RadioClock;
  readonly #events: SupervisorEvents;
  #process: RadioProcess | null = null;
  #startedAt = 0;
  #aliveAt = 0;
  #restart_s = FIRST_RESTART_S;
  #cancelRestart: (() => void) | null = null;
  #cancelCheck: (() => void) | null = null;

  constructor(spawn: RadioSpawner, clock: RadioClock, events: SupervisorEvents) {
    this.#spawn = spawn;
    this.#clock = clock;
    this.#events = events;
  }

  /** Starts the process and the watch over it; does nothing where it is running. */
  start(): void {
    if (this.#cancelCheck !== null) return;
    this.#cancelCheck = this.#clock.every(CHECK_MS, () => this.#check());
    this.#launch();
  }

  /** Ends the process; resolves when it is gone or was killed. Safe to call twice. */
  async stop(): Promise<void> {
    this.#cancelCheck?.();
    this.#cancelCheck = null;
    this.#cancelRestart?.();
    this.#cancelRestart = null;
    const ending = this.#process;
    this.#process = null;
    if (ending === null) return;
    await new Promise<void>((resolve) => {
      const cancel = this.#clock.after(END_MS, () => {
        ending.kill();
        resolve();
      });
      ending.onExit(() => {
        cancel();
        resolve();
      });
      ending.send({ type: 'end' } satisfies Request);
    });
  }

  /** Says something to the process; lost where it is not running, since it is told all at its start. */
  send(request: Request): void {
    this.#process?.send(request);
  }

  /** Ends the process and starts another, for an adapter that came back. */
  renew(why: string): void {
    const old = this.#process;
    if (old === null) return;
    old.kill();
    this.#broken(old, why);
  }

  #launch(): void {
    this.#cancelRestart = null;
    const child = this.#spawn();
    this.#process = child;
    this.#startedAt = this.#clock.now();
    this.#aliveAt = this.#startedAt;
    child.onMessage((message) => {
      if (this.#process !== child) return;
      this.#aliveAt = this.#clock.now();
      const notice = NoticeSchema.safeParse(message);
      if (notice.success) this.#events.onNotice(notice.data);
    });
    child.onExit((why) => this.#broken(child, why));
    this.#events.onStarted();
  }

  #check(): void {
    const child = this.#process;
    if (child === null || this.#clock.now() - this.#aliveAt <= HANGS_AFTER_S) return;
    child.kill();
    this.#broken(child, 'no sign of life');
  }

  #broken(child: RadioProcess, why: string): void {
    if (this.#process !== child) return;
    this.#process = null;
    const wasWell = this.#clock.now() - this.#startedAt >= WELL_AFTER_S;
    this.#restart_s = wasWell ? FIRST_RESTART_S : Math.min(LONGEST_RESTART_S, this.#restart_s);
    this.#cancelRestart = this.#clock.after(this.#restart_s * 1000, () => this.#launch());
    this.#restart_s *= 2;
    this.#events.onBroken(why);
  }
}
