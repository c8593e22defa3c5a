import { z } from 'zod';
import { InstantSchema } from './session.ts';

/** What a reviewer may say of a snapshot. */
export const REVIEW_VERDICTS = ['accepted', 'queried'] as const;

/** A reviewer's word on one snapshot, and why; a query without a reason helps nobody. */
export const ReviewWordSchema = z
  .strictObject({
    snapshot: z.string().min(1),
    verdict: z.enum(REVIEW_VERDICTS),
    text: z.string().max(5000),
  })
  .refine(({ verdict, text }) => verdict !== 'queried' || text.trim() !== '', {
    message: 'a query needs its reason',
    path: ['text'],
  });

/**
 * A reviewer's word as kept in the record: beside the snapshot, which it does not touch. Later words
 * on the same snapshot are added; the last one holds.
 */
export const SnapshotReviewSchema = ReviewWordSchema.safeExtend({
  id: z.string().min(1),
  at: InstantSchema,
  author: z.string().max(200),
});
export type SnapshotReview = z.infer<typeof SnapshotReviewSchema>;
