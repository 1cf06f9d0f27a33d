// How the page of a review looks: plain, for the screen in light and dark and for paper. Weight is told by words and by the line at
// the side, never by colour alone.

export const STYLE = `
:root { color-scheme: light dark; --ink: #161616; --soft: #4a4a4a; --paper: #fff; --line: #8a8a8a; --fill: #f1f1ef; --hot: #8a1408; }
@media (prefers-color-scheme: dark) { :root { --ink: #ececec; --soft: #b9b9b9; --paper: #181818; --line: #7c7c7c; --fill: #242424; --hot: #ff9d8c; } }
body { color: var(--ink); background: var(--paper); font: 1rem/1.45 "Liberation Sans", Arial, Helvetica, sans-serif; max-width: 52rem; margin: 1.5rem auto; padding: 0 1.2rem; font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.08rem; margin: 2rem 0 .4rem; border-bottom: 2px solid var(--ink); padding-bottom: .15rem; }
h3 { font-size: 1rem; margin: 1.3rem 0 .4rem; padding: .25rem .6rem; background: var(--fill); }
h1, h2, h3 { break-after: avoid; }
p { margin: .15rem 0; }
.counts { font-size: 1.05rem; }
ul { list-style: none; margin: 0; padding: 0; }
li { break-inside: avoid; border-left: .2rem solid var(--line); padding: .15rem 0 .15rem .8rem; margin: .7rem 0; }
.critical h3 { color: var(--hot); }
.critical li { border-left: .45rem solid var(--hot); padding-left: .55rem; }
.wording li { border-left-style: dotted; }
.kind { font-weight: bold; }
.variants { color: var(--soft); }
dl { display: grid; grid-template-columns: repeat(auto-fit, minmax(16rem, 1fr)); gap: .2rem 1.2rem; margin: .3rem 0; font-size: .92em; }
dl div { display: flex; gap: .6rem; }
dt { flex: none; width: 2.2rem; color: var(--soft); }
dd { margin: 0; }
.place { font-size: .85em; color: var(--soft); }
footer { margin-top: 2rem; border-top: 1px solid var(--line); padding-top: .5rem; font-size: .92em; }
@page { margin: 14mm 15mm 16mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8.5pt Arial, Helvetica, sans-serif; } }
@media print {
  :root { color-scheme: light; --ink: #000; --soft: #333; --paper: #fff; --line: #777; --fill: #ececec; --hot: #8a1206; }
  h1 { font-size: 17pt; }
  h2 { font-size: 11.5pt; }
  h3 { font-size: 10.5pt; }
  .counts { font-size: 11pt; }
  body { max-width: none; margin: 0; padding: 0; font-size: 10pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
`;
