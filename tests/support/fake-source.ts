import type { Sample } from '../../core/stream/sample.ts';
import type { SourceKind } from '../../core/record/session.ts';
import type {
  Capability,
  Health,
  Playback,
  SteerableSource,
} from '../../electron/sources/source.ts';

/** A source that says what a test makes it say. */
export class FakeSource implements SteerableSource {
  readonly kind: SourceKind;
  readonly capabilities: readonly Capability[];
  readonly calls: string[] = [];
  epoch = 1;
  running = false;
  at: Playback = { position: 0, duration: null, speed: 1, playing: true };
  readonly #batch = new Set<(batch: never) => void>();
  readonly #health = new Set<(health: Health) => void>();

  constructor(kind: SourceKind = 'radio', capabilities: readonly Capability[] = []) {
    this.kind = kind;
    this.capabilities = capabilities;
  }

  start(): Promise<void> {
    this.running = true;
    this.tell({ state: 'running', alert: null });
    return Promise.resolve();
  }
  stop(): Promise<void> {
    this.running = false;
    return Promise.resolve();
  }
  onBatch(fn: (batch: never) => void): () => void {
    this.#batch.add(fn);
    return () => this.#batch.delete(fn);
  }
  onHealth(fn: (health: Health) => void): () => void {
    this.#health.add(fn);
    return () => this.#health.delete(fn);
  }
  say(unit: string, samples: readonly Sample[]): void {
    for (const fn of this.#batch) fn({ epoch: this.epoch, unit, samples } as never);
  }
  tell(health: Health): void {
    for (const fn of this.#health) fn(health);
  }
  get listeners(): number {
    return this.#batch.size + this.#health.size;
  }
  playback(): Playback {
    return this.at;
  }
  play(): void {
    this.calls.push('play');
  }
  pause(): void {
    this.calls.push('pause');
  }
  seek(position: number): void {
    this.calls.push(`seek ${position}`);
  }
  setSpeed(speed: number): void {
    this.calls.push(`speed ${speed}`);
  }
}
