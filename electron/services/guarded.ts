import { fail, type Result } from '../../core/result.ts';
import { failure, type Failure } from '../bridge/errors.ts';
import { messageOf } from '../bridge/handlers.ts';

/** What the disk says no to is a failure with its reason, not an inner fault. */
export function guarded<T>(fn: () => Result<T, Failure>): Result<T, Failure> {
  try {
    return fn();
  } catch (error) {
    return fail(failure('IO', { detail: messageOf(error) }));
  }
}
