import { spawn, type ChildProcess } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

/** The virtual sensors, in a Python process with an independent Bluetooth stack. */
export class World {
  readonly port: number;
  readonly #child: ChildProcess;
  readonly #waiting = new Map<
    number,
    { resolve: (v: unknown) => void; reject: (e: Error) => void }
  >();
  #next = 1;

  private constructor(child: ChildProcess, port: number) {
    this.#child = child;
    this.port = port;
  }

  /** Starts the sensors with the interpreter of the tests' own environment. */
  static async start(python: string): Promise<World> {
    const script = fileURLToPath(new URL('peripherals/world.py', import.meta.url));
    const child = spawn(python, [script], { stdio: ['pipe', 'pipe', 'inherit'] });
    const lines = createInterface({ input: child.stdout });
    return new Promise((resolve, reject) => {
      let world: World | null = null;
      child.once('exit', (code) => reject(new Error(`the virtual sensors ended with ${code}`)));
      lines.on('line', (line) => {
        const message = JSON.parse(line) as { ready?: boolean; port?: number; id?: number };
        if (world === null) {
          world = new World(child, message.port ?? 0);
          resolve(world);
        } else world.#onAnswer(message as Answer);
      });
    });
  }

  /** Gives an order; resolves when it is carried out. */
  order(who: string, what: string, fields: Record<string, unknown> = {}): Promise<unknown> {
    const id = this.#next++;
    this.#child.stdin?.write(`${JSON.stringify({ id, who, do: what, ...fields })}\n`);
    return new Promise((resolve, reject) => this.#waiting.set(id, { resolve, reject }));
  }

  async stop(): Promise<void> {
    const gone = new Promise((resolve) => this.#child.once('exit', resolve));
    this.#child.kill('SIGTERM');
    await gone;
  }

  #onAnswer(answer: Answer): void {
    const waiting = this.#waiting.get(answer.id);
    this.#waiting.delete(answer.id);
    if (answer.error === undefined) waiting?.resolve(answer.result);
    else waiting?.reject(new Error(answer.error));
  }
}

interface Answer {
  readonly id: number;
  readonly result?: unknown;
  readonly error?: string;
}
