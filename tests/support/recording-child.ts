import { createJobFile } from '../../electron/jobfile/job-file.ts';
import { testHead, testSession, testUnit } from './job.ts';

/**
 * Records eight channels at 4 Hz until it is killed, and says on standard output which sample it
 * had handed over when: `ordinal milliseconds`.
 */
const [, , path] = process.argv;
if (path === undefined) throw new Error('path?');
const by = { author: 'test', at: '2026-03-01T09:00:00Z' };
const job = createJobFile(path, testHead(), [testUnit()], by);
if (!job.ok) throw new Error(job.error.detail);
const recorder = job.value.startSession(testSession(), by);
const channels = [
  'suctionPressure',
  'liquidPressure',
  'suctionLineTemp',
  'liquidLineTemp',
  'dischargeLineTemp',
  'outdoorAirTemp',
  'returnAirTemp',
  'supplyAirTemp',
] as const;
let ordinal = 0;
setInterval(() => {
  const t = ordinal / channels.length / 4;
  recorder.append(
    'A',
    channels.map((channel, i) => ({ channel, t, value: 280 + ordinal + i * 0.1 })),
  );
  ordinal += channels.length;
  process.stdout.write(`${ordinal} ${Date.now()}\n`);
}, 250);
