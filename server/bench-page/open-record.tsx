// The button that opens a record: read in to go on from.
import { useRef } from 'preact/hooks';

export function OpenRecord({ open }: { open: (text: string, name: string) => void }) {
  const field = useRef<HTMLInputElement>(null);
  return (
    <>
      <button type="button" onClick={() => field.current?.click()}>
        Open a record
      </button>
      <input
        ref={field}
        hidden
        type="file"
        accept=".fettle,.txt,text/plain"
        onChange={async (event) => {
          const input = event.currentTarget;
          const [file] = input.files ?? [];
          if (file !== undefined) open(await file.text(), file.name);
          input.value = '';
        }}
      />
    </>
  );
}
