import { useLayoutEffect, useRef, useState, type RefObject } from 'react';

/** The size of an element in CSS pixels, followed as it changes. */
export function useSize<E extends HTMLElement>(): {
  readonly ref: RefObject<E | null>;
  readonly width: number;
  readonly height: number;
} {
  const ref = useRef<E>(null);
  const [size, setSize] = useState({ width: 0, height: 0 });
  useLayoutEffect(() => {
    const element = ref.current;
    if (element === null) return undefined;
    const observer = new ResizeObserver(([entry]) => {
      if (entry === undefined) return;
      const width = Math.round(entry.contentRect.width);
      const height = Math.round(entry.contentRect.height);
      setSize((old) => (old.width === width && old.height === height ? old : { width, height }));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { ref, ...size };
}
