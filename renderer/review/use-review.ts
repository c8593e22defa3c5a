import { put } from '../store/store.ts';
import { useCommand, useServices } from '../store/context.ts';

/** Opens a session of the job for replay and goes to Review. */
export function useReview(): (session: string) => Promise<void> {
  const command = useCommand();
  const { store } = useServices();
  return async (session) => {
    const review = await command('review.open', { session });
    if (review !== null) put(store, { review, room: 'review' });
  };
}
