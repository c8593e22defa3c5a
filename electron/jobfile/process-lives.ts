import { readFileSync } from 'node:fs';

/** Ticks a second of the times in /proc (USER_HZ, 100 on every Linux of today; man 5 proc). */
const TICKS_PER_S = 100;
/** The clocks compared are not the same to the second. */
const SLACK_MS = 2_000;

/**
 * Whether the process that had this number at some moment still lives. Numbers are used again, after
 * a restart of the machine above all: where the system tells when a process began (Linux), one that
 * began after that moment is another.
 *
 * @param then the moment, ms since 1970
 */
export function processLives(pid: number, then: number): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false;
  }
  const began = beganAt(pid);
  return began === null || began <= then + SLACK_MS;
}

/** When a process began, ms since 1970; null where the system does not tell. */
function beganAt(pid: number): number | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    // The name in parentheses may hold blanks; the start is the 22nd field, the 20th after it.
    const ticks = Number(stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19]);
    const uptime_s = Number(readFileSync('/proc/uptime', 'utf8').split(' ')[0]);
    const began = Date.now() - (uptime_s - ticks / TICKS_PER_S) * 1000;
    return Number.isFinite(began) ? began : null;
  } catch {
    return null;
  }
}
