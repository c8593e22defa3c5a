/** An operation of the radio that did not end in time or was cut off by the loss of the link. */
export class RadioTimeout extends Error {
  override readonly name = 'RadioTimeout';
}

/**
 * Waits for a promise no longer than `ms`, and no longer than the signal allows. noble's calls may
 * never come back: an attribute error to a subscription, say, is swallowed.
 *
 * @throws RadioTimeout with `what` in its message
 */
export async function within<T>(
  promise: Promise<T>,
  ms: number,
  what: string,
  signal?: AbortSignal,
): Promise<T> {
  let cancel: () => void = () => undefined;
  const limit = new Promise<never>((_resolve, reject) => {
    const stop = (why: string) => () => reject(new RadioTimeout(`${what}: ${why}`));
    const timer = setTimeout(stop(`no answer in ${ms / 1000} s`), ms);
    const onAbort = stop('the link was lost');
    if (signal?.aborted === true) onAbort();
    signal?.addEventListener('abort', onAbort);
    cancel = () => {
      clearTimeout(timer);
      signal?.removeEventListener('abort', onAbort);
    };
  });
  try {
    return await Promise.race([promise, limit]);
  } finally {
    cancel();
  }
}

/** A pause that ends early where the signal says so. */
export async function pause(ms: number, signal: AbortSignal): Promise<void> {
  if (signal.aborted) return;
  await new Promise<void>((resolve) => {
    const done = () => {
      clearTimeout(timer);
      signal.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, ms);
    signal.addEventListener('abort', done);
  });
}
