// How the bench sheet looks: plain, in grey, for paper first; on a dark screen light on dark.

const LIGHT =
  'color-scheme: light; --paper: #fff; --ink: #111; --soft: #444; --line: #808080; --wash: #e8e8e8; --picture: none;';
const DARK =
  'color-scheme: dark; --paper: #151515; --ink: #e8e8e8; --soft: #bfbfbf; --line: #7d7d7d; --wash: #2a2a2a; --picture: invert(.92);';

export const STYLE = `
:root { ${LIGHT} }
@media screen {
@media (prefers-color-scheme: dark) { :root { ${DARK} } }
.vscode-light, .vscode-high-contrast-light { ${LIGHT} }
.vscode-dark, .vscode-high-contrast:not(.vscode-high-contrast-light) { ${DARK} }
}
body { color: var(--ink); background: var(--paper); font: 9.5pt/1.28 "Liberation Sans", Arial, Helvetica, "DejaVu Sans Condensed", sans-serif; max-width: 50rem; margin: 1.5rem auto; padding: 0 1.2rem; font-variant-numeric: tabular-nums; }
h1 { font-size: 15pt; line-height: 1.15; margin: 0 0 .2rem; }
h2 { font-size: 12pt; border-bottom: 2.5px solid var(--ink); margin: 2mm 0 .6mm; padding-bottom: .1rem; }
h3 { font-size: 9.5pt; margin: 1.5mm 0 .6mm; padding: .1rem .5rem; background: var(--wash); }
h4 { font-size: 12pt; line-height: 1.2; margin: .3mm 0; }
h3 + .step, .caution + .caution { break-before: avoid; }
.step > h4, .step > .caution { break-after: avoid; }
.lay-out h4 { font-size: 8.5pt; }
h1, h2, h3, h4 { break-after: avoid; }
p { margin: .1rem 0; }
header { border-bottom: 2.5px solid var(--ink); padding-bottom: .4rem; margin-bottom: .8rem; }
.kind { font-size: 8.5pt; letter-spacing: .08em; text-transform: uppercase; color: var(--soft); margin: 0; }
.draft { display: inline-block; border: 2px solid var(--ink); padding: .1rem .5rem; font-weight: bold; }
.label { font-size: 8.5pt; font-weight: normal; color: var(--soft); }
.first { border: 1.5px solid var(--ink); padding: .3rem .7rem; }
.caution { border: 1px solid var(--ink); border-left-width: .5rem; padding: 0 .5rem; font-size: 9.5pt; background: var(--wash); }
.caution.usual { background: var(--paper); font-size: 9.5pt; }
.step { break-inside: avoid; border-bottom: 1px solid var(--line); padding: 0 0 .6mm; }
.step.long { break-inside: auto; }
.step > h4 { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 2mm; }
.step > h4 > .tools { font-size: 8.5pt; font-weight: normal; }
.step > h4 > .sign { margin: 0 0 0 auto; font-size: 8.5pt; font-weight: normal; white-space: nowrap; }
.step > h4 .line { width: 16mm; }
.step > h4 .blank { margin: 0 0 0 2mm; }
.number { display: inline-block; min-width: 2.3rem; }
ul { list-style: none; margin: 0; padding: 0; }
.body.pictured { display: grid; grid-template-columns: 36mm 1fr; gap: 0 3mm; align-items: start; }
.pictures { display: grid; gap: 2mm; break-inside: avoid; }
.lines { display: grid; grid-template-columns: repeat(6, 1fr); gap: .5mm 3mm; margin: .5mm 0 0; counter-reset: line; }
.pictured > .lines { grid-template-columns: repeat(4, 1fr); }
.lines > li { grid-column: 1 / -1; }
.lines > .action { grid-column: span 2; display: grid; grid-template-columns: auto 1fr; gap: 0 2mm; align-items: start; break-inside: avoid; counter-increment: line; }
.lines > .row { grid-column: span 3; }
.pictured > .lines > .row { grid-column: 1 / -1; }
.lines > .long, .lines > .wide { grid-column: 1 / -1; }
.lines > .wide { grid-template-columns: auto minmax(0, 1fr) auto; }
.action > .what { grid-column: 2; }
.action:not(:has(> .boxes)) > .what { grid-column: 1 / 3; }
.what:has(> .fields) { display: flex; flex-wrap: wrap; gap: .5mm 2mm; align-items: start; }
.what:has(> .fields) > .do { flex: 1 1 26mm; }
.what > .mind { flex-basis: 100%; }
.mind:has(> .picture) { display: flex; gap: 3mm; justify-content: space-between; align-items: start; }
.mind > .picture { flex: 0 1 62mm; }
.do { font-weight: bold; }
.do::before { content: counter(line, lower-alpha) "  "; font-weight: normal; color: var(--soft); white-space: pre; }
.figures { grid-column: 3; }
.figures > .bounds, .stages .figure, .cure > .figure { box-sizing: border-box; width: 58mm; }
.bounds, .cure > .figure, .stages.together > ul, .stages > li > .figure { border-left: 2.5px solid var(--ink); padding-left: 2.5mm; }
.figure { font-size: 15pt; font-weight: bold; line-height: 1.2; margin: 0; }
.figure .label { font-size: 9.5pt; white-space: nowrap; }
.figure .when { font-size: 9.5pt; font-weight: normal; }
.cure { justify-content: flex-end; align-items: stretch; }
.figures .with { font-size: 8.5pt; line-height: 1.25; }
.stages.together, .stages > li { display: flex; align-items: stretch; justify-content: flex-end; gap: 2mm; margin-bottom: .5mm; }
.stages.together > ul { width: 58mm; box-sizing: border-box; }
.stages.together > ul .figure { display: block; width: auto; }
.stages > li > .figure { display: flex; flex-wrap: wrap; align-content: center; gap: 0 1.5mm; }
.actions li { padding-left: 1.3rem; text-indent: -1.3rem; margin: 0; font-size: 8.5pt; line-height: 1.25; }
.boxes { display: inline-flex; flex-wrap: wrap; gap: .5mm; text-indent: 0; max-width: 112mm; vertical-align: middle; align-items: flex-start; }
.figures .boxes { flex-wrap: nowrap; }
.box { display: inline-block; box-sizing: border-box; min-width: 12mm; height: 12mm; border: 1.3px solid var(--ink); border-radius: 2px; font-size: 8.5pt; font-weight: normal; line-height: 1.2; color: var(--soft); padding: .3mm 1mm; }
.lay-out .box { min-width: 4mm; width: 4mm; height: 4mm; margin-right: 1mm; }
.mind { margin: .3mm 0; font-size: 8.5pt; }
.mind p { margin: 0; }
.fields { display: flex; flex-wrap: wrap; gap: 1mm; align-items: center; }
.field { display: inline-flex; flex-direction: column; box-sizing: border-box; min-width: 14mm; height: 12mm; border: 1.3px solid var(--ink); border-radius: 2px; padding: 0 1mm; line-height: 1.2; }
.picture { margin: 0; }
.picture svg { display: block; filter: var(--picture); max-width: 100%; height: auto; max-height: 30mm; }
.pictures svg { max-height: 62mm; }
.note { font-style: italic; }
.hold { border: 2px solid var(--ink); padding: .25rem .6rem; }
.blank { display: inline-flex; align-items: baseline; gap: .3rem; margin: .25rem .9rem 0 0; white-space: nowrap; }
.tick { display: block; color: var(--ink); font-size: 15pt; line-height: .8; text-align: center; }
.blank .line { display: inline-block; width: 4.5rem; border-bottom: 1px solid var(--ink); height: 1.1em; color: var(--ink); font-weight: bold; }
.blank.wide .line { width: 9rem; }
.sign { margin: .35rem 0 0; }
.columns { columns: 12.5rem 3; column-gap: 1rem; }
.columns li { break-inside: avoid; }
table { border-collapse: collapse; width: 100%; font-size: 8.5pt; margin: .4rem 0; }
caption { text-align: left; font-weight: bold; padding: .2rem 0; }
th, td { border: 1px solid var(--line); padding: .05rem .3rem; text-align: left; vertical-align: top; }
thead th { background: var(--wash); }
tbody th { font-weight: normal; }
td.write { min-width: 5rem; }
td.write .blank { margin-right: .4rem; }
td.write .line { width: 2.8rem; }
tr { break-inside: avoid; }
.whole, .value { white-space: nowrap; }
.value { display: inline-block; min-width: 18mm; margin-right: 3mm; font-weight: bold; }
.value.outside, .value.slip, .value.wrong-kind { background: var(--ink); color: var(--paper); padding: 0 1mm; min-width: 0; }
.value.outside .label, .value.slip .label, .value.wrong-kind .label { color: inherit; }
.value.worn { border-bottom: 1.5px dashed var(--ink); }
@media screen and (max-width: 45rem) { .whole { white-space: normal; } }
@media screen and (max-width: 45rem) { .table { overflow-wrap: anywhere; font-size: 8.5pt; } th, td { padding: .15rem .2rem; } td.write { min-width: 4rem; } }
dl { margin: .3rem 0; font-size: 8.5pt; columns: 2; }
dl div { display: flex; gap: .8rem; break-inside: avoid; }
dt { min-width: 5rem; font-weight: bold; }
.chapter > .sign { break-inside: avoid; break-before: avoid; }
dd { margin: 0; }
footer { margin-top: 1.5rem; break-inside: avoid; }
@media screen { body { font-size: 11pt; } .label, .mind, .figures .with, .tools, .actions li, table, dl { font-size: 9.5pt; } }
@media print {
  body { color: #000; max-width: none; margin: 0; padding: 0; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .chapter.next { break-before: page; }
}
`;
