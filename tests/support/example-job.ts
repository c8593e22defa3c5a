import { createEngine } from '../../core/engine.ts';
import { SessionSchema } from '../../core/record/session.ts';
import type { Sample } from '../../core/stream/sample.ts';
import { createJobFile } from '../../electron/jobfile/job-file.ts';
import { testHead, testSession, testUnit } from './job.ts';
import { testConfig } from './session.ts';

/** How much of the session the example holds, s. */
export const EXAMPLE_LENGTH_S = 400;

/**
 * Writes a job with one finished session of unit A and two snapshots, as the program would have.
 *
 * @param path where no file is yet
 * @param samples of unit A, in order of time, at least {@link EXAMPLE_LENGTH_S} long
 * @throws Error where the file cannot be made or nothing can be read
 */
export function writeExampleJob(path: string, samples: readonly Sample[], title: string): void {
  const by = { author: 'Example', at: '2026-06-01T09:00:00.000Z' };
  const head = testHead({ id: 'example', title: 'Example: a simulated unit', createdAt: by.at });
  const made = createJobFile(path, head, [testUnit({ name: 'Invented unit' })], by);
  if (!made.ok) throw new Error(made.error.detail);
  const job = made.value;
  const config = testConfig({ marks: ['simulated'] });
  const session = SessionSchema.parse({
    ...testSession(),
    origin: by.at,
    source: { kind: 'simulated', label: title },
    units: [{ unit: 'A', config }],
  });
  const recorder = job.startSession(session, by);
  const engine = createEngine(config);
  for (const [from, to] of [
    [0, 250],
    [250, EXAMPLE_LENGTH_S],
  ] as const) {
    const part = samples.filter((s) => s.t >= from && s.t < to);
    recorder.append('A', part);
    engine.push(part);
    const content = engine.snapshot();
    if (!content.ok) throw new Error(content.error.code);
    job.addSnapshot({
      id: `after-${to}-s`,
      sessionId: session.id,
      unit: 'A',
      takenAt: new Date(Date.parse(by.at) + to * 1000).toISOString(),
      label: `After ${to} s`,
      note: '',
      author: by.author,
      sourceKind: 'simulated',
      programVersion: session.programVersion,
      config,
      content: content.value,
      ...recorder.mark('A'),
    });
  }
  recorder.end(by);
  job.close();
}
