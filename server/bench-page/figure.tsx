// A figure that is read from a metre away. One number is large: the same in another unit stands small behind it, so that the wrench is not set
// by the wrong one.

export function Figure({ text, role }: { text: string; role?: 'timer' }) {
  const [, own = text, other] = /^(.*?\S)( \([^()]+\))$/.exec(text) ?? [];
  return (
    <p class="figure" role={role}>
      {own}
      {other === undefined ? null : <span class="other">{other}</span>}
    </p>
  );
}
