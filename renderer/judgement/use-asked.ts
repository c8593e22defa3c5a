import { useCallback, useMemo } from 'react';
import { NO_ANSWERS, type Answers } from '../../core/record/answers.ts';
import { put } from '../store/store.ts';
import { useApp, useCommand, useServices } from '../store/context.ts';

/**
 * The answers so far for one unit of the open job, and a function that changes some of them. They
 * are kept in the record: a check takes a person away from the screen, and a visit goes on another
 * day. A change shows at once; where it could not be kept, a notice says so and it is undone.
 */
export function useAsked(
  unit: string,
  heating: boolean,
): [Answers, (part: Partial<Answers>) => void] {
  const { store } = useServices();
  const command = useCommand();
  const key = `${useApp((s) => s.job?.head.id ?? '')} ${unit}`;
  const kept = useApp((s) => s.job?.answers.find((a) => a.unit === unit)?.answers);
  const underWay = useApp((s) => s.asked[key]);
  const asked = useMemo(
    () => underWay ?? kept ?? { ...NO_ANSWERS, heatPump: heating },
    [underWay, kept, heating],
  );
  const change = useCallback(
    (part: Partial<Answers>) => {
      const { job, asked: pending } = store.getState();
      const before = pending[key] ?? job?.answers.find((a) => a.unit === unit)?.answers;
      const answers = { ...(before ?? { ...NO_ANSWERS, heatPump: heating }), ...part };
      store.setState((s) => ({ asked: { ...s.asked, [key]: answers } }));
      void command('answers.save', { unit, answers }).then((saved) => {
        if (saved !== null) put(store, { job: saved });
        store.setState(({ asked: { [key]: latest, ...others } }) =>
          latest === undefined || latest === answers ? { asked: others } : {},
        );
      });
    },
    [store, command, key, unit, heating],
  );
  return [asked, change];
}
