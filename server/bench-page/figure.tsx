// A figure that is read from a metre away. One number is large: the same in another unit stands small behind it, so that the wrench is not set
// by the wrong one. So does what stands behind it and is no figure.

export function Figure({ text, behind = '', role }: { text: string; behind?: string | undefined; role?: 'timer' }) {
  const figure = text.endsWith(behind) ? text.slice(0, text.length - behind.length) : text;
  const [, own = figure, other] = /^(.*?\S)( \([^()]+\))$/.exec(figure) ?? [];
  return (
    <p class="figure" role={role}>
      {own}
      {other === undefined ? null : <span class="other">{other}</span>}
      {behind === '' ? null : <span class="behind">{behind}</span>}
    </p>
  );
}
