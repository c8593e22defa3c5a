import { useEffect, type ReactNode } from 'react';
import { put, ROOMS, type Room } from '../store/store.ts';
import { useApp, useServices } from '../store/context.ts';
import { JobScreen } from '../job/JobScreen.tsx';
import { ReviewScreen } from '../review/ReviewScreen.tsx';
import { SensorsScreen } from '../sensors/SensorsScreen.tsx';
import { useCallouts, useTitle } from '../watch/callout.ts';
import { WatchScreen } from '../watch/WatchScreen.tsx';
import { ErrorBoundary } from './ErrorBoundary.tsx';
import { Notices } from './Notices.tsx';
import { SourceBanner } from './SourceBanner.tsx';
import { TopBar } from './TopBar.tsx';

const SCREENS: Record<Room, () => ReactNode> = {
  watch: WatchScreen,
  job: JobScreen,
  review: ReviewScreen,
  sensors: SensorsScreen,
};

/** The frame around every room. */
export function App(): ReactNode {
  const ready = useApp((s) => s.ready);
  const room = useApp((s) => s.room);
  const fit = useApp(
    (s) => (s.room === 'watch' && s.live !== null) || (s.room === 'review' && s.review !== null),
  );
  useRoomKeys();
  useCallouts();
  useTitle();
  if (!ready) return <p className="room">Waiting for the host…</p>;
  const Screen = SCREENS[room];
  return (
    <div className="frame" data-fit={fit}>
      <TopBar />
      <SourceBanner />
      <ErrorBoundary key={room}>
        <Screen />
      </ErrorBoundary>
      {/* A room that fits its window has a place of its own for them, where they cover no reading. */}
      {!fit && <Notices />}
    </div>
  );
}

/** Alt+1 to Alt+4 go to the rooms. */
function useRoomKeys(): void {
  const { store } = useServices();
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const room = ROOMS[Number(event.key) - 1];
      if (!event.altKey || room === undefined) return;
      event.preventDefault();
      put(store, { room });
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, [store]);
}
