// The sheet for paper: it stands in the page only while that is printed.
import { type ComponentChild, render } from 'preact';
import { useEffect, useRef } from 'preact/hooks';

/** Prints the sheet; `sheet` gives undefined as long as there is none. */
export function usePaper(paper: Element, sheet: () => ComponentChild | undefined): () => void {
  const fill = useRef<() => void>(() => undefined);
  fill.current = () => {
    const body = sheet();
    if (body !== undefined) render(body, paper);
  };
  useEffect(() => {
    const before = (): void => fill.current();
    const empty = (): void => render(null, paper);
    globalThis.addEventListener('beforeprint', before);
    globalThis.addEventListener('afterprint', empty);
    return () => {
      globalThis.removeEventListener('beforeprint', before);
      globalThis.removeEventListener('afterprint', empty);
    };
  }, []);
  return () => {
    fill.current();
    globalThis.print();
  };
}
