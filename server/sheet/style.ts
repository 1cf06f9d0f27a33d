// How the bench sheet looks: plain, in grey, for paper first. Black on white also where an editor is dark.

export const STYLE = `
:root { color-scheme: light; background: #fff; }
body { color: #111; background: #fff; font: 10.5pt/1.35 "Liberation Sans", Arial, Helvetica, "DejaVu Sans Condensed", sans-serif; max-width: 50rem; margin: 1.5rem auto; padding: 0 1.2rem; font-variant-numeric: tabular-nums; }
h1 { font-size: 19pt; line-height: 1.15; margin: 0 0 .2rem; }
h2 { font-size: 14pt; border-bottom: 2.5px solid #111; margin: 3mm 0 1mm; padding-bottom: .1rem; }
h3 { font-size: 10.5pt; margin: 2mm 0 1mm; padding: .1rem .5rem; background: #e4e4e4; }
h4 { font-size: 13pt; margin: .5mm 0; }
.lay-out h4 { font-size: 9pt; }
h1, h2, h3, h4 { break-after: avoid; }
p { margin: .1rem 0; }
header { border-bottom: 2.5px solid #111; padding-bottom: .4rem; margin-bottom: .8rem; }
.kind { font-size: 9pt; letter-spacing: .08em; text-transform: uppercase; color: #444; margin: 0; }
.draft { display: inline-block; border: 2px solid #111; padding: .1rem .5rem; font-weight: bold; }
.label { font-size: 8.5pt; font-weight: normal; color: #444; }
.first { border: 1.5px solid #111; padding: .3rem .7rem; }
.caution { border: 1px solid #111; border-left-width: .5rem; padding: 0 .5rem; font-size: 9.5pt; background: #ececec; }
.caution.usual { background: #fff; font-size: 9.5pt; }
.tools { font-size: 9.5pt; }
.step { break-inside: avoid; border-bottom: 1px solid #888; padding: 0 0 1mm; }
.step.long { break-inside: auto; }
.step > h4 { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 2mm; }
.step > h4 > .sign { margin: 0 0 0 auto; font-size: 9pt; font-weight: normal; }
.step > h4 .line { width: 16mm; }
.step > h4 .blank { margin: 0 0 0 2mm; }
.number { display: inline-block; min-width: 2.3rem; }
ul { list-style: none; margin: .2rem 0; padding: 0; }
.lines { display: grid; grid-template-columns: 1fr 1fr 1fr; gap: .8mm 3mm; counter-reset: line; }
.lines > li { grid-column: 1 / -1; }
.lines > .action { grid-column: auto; display: grid; grid-template-columns: auto 1fr; gap: 0 2mm; align-items: start; break-inside: avoid; counter-increment: line; }
.lines > .row { grid-column: span 2; }
.lines > .wide { grid-column: 1 / -1; grid-template-columns: auto 1fr 62mm; }
.wide:not(:has(> .figures)) > .what { grid-column: 2 / 4; }
.action.wide:not(:has(> .figures, > .boxes)) > .what { grid-column: 1 / 4; }
.what { grid-column: 2; }
.action:not(:has(> .boxes)) > .what { grid-column: 1 / 3; }
.what:has(> .fields, > .below) { display: flex; flex-wrap: wrap; gap: .5mm 2mm; align-items: center; }
.what:has(> .fields, > .below) > .do { flex: 1 1 30mm; }
.what > .mind { flex-basis: 100%; }
.do { font-weight: bold; }
.do::before { content: counter(line, lower-alpha) "  "; font-weight: normal; color: #444; white-space: pre; }
.figures { grid-column: 3; border-left: 2.5px solid #111; padding-left: 3mm; }
.figure { font-size: 15pt; font-weight: bold; line-height: 1.15; margin: 0; }
.figure .label { font-size: 10pt; white-space: nowrap; }
.figures .with { font-size: 8.5pt; }
.actions li { padding-left: 1.3rem; text-indent: -1.3rem; margin: 0; font-size: 8.5pt; line-height: 1.25; }
.boxes { display: inline-flex; flex-wrap: wrap; gap: .5mm; text-indent: 0; max-width: 52mm; vertical-align: middle; }
p > .boxes { max-width: none; flex-wrap: wrap; }
.box { display: inline-block; box-sizing: border-box; min-width: 12mm; height: 12mm; border: 1.3px solid #111; border-radius: 2px; font-size: 8.5pt; font-weight: normal; line-height: 1.2; color: #444; padding: .3mm 1mm; }
.lay-out .box { min-width: 4mm; width: 4mm; height: 4mm; margin-right: 1mm; }
.mind { margin: .3mm 0; font-size: 9pt; }
.mind p { margin: 0; }
.stages > li { display: flex; align-items: center; gap: 2mm; margin-bottom: .5mm; }
.fields { display: flex; flex-wrap: wrap; gap: 1mm; align-items: center; }
.field { display: inline-flex; flex-direction: column; box-sizing: border-box; min-width: 15mm; height: 12mm; border: 1.3px solid #111; border-radius: 2px; padding: 0 1mm; line-height: 1.2; }
.picture { margin: .5mm 0; }
.picture svg { max-width: 100%; height: auto; max-height: 34mm; }
.pictures { display: flex; flex-wrap: wrap; gap: 3mm; }
.pictures svg { max-height: 42mm; }
.pictures .picture { break-inside: avoid; }
.note { font-style: italic; }
.hold { border: 2px solid #111; padding: .25rem .6rem; }
.blank { display: inline-flex; align-items: baseline; gap: .3rem; margin: .25rem .9rem 0 0; white-space: nowrap; }
.blank .line { display: inline-block; width: 4.5rem; border-bottom: 1px solid #111; height: 1.1em; }
.blank.wide .line { width: 9rem; }
.sign { margin: .35rem 0 0; }
.columns { columns: 12.5rem 3; column-gap: 1rem; }
.columns li { break-inside: avoid; }
table { border-collapse: collapse; width: 100%; font-size: 8.5pt; margin: .4rem 0; }
caption { text-align: left; font-weight: bold; padding: .2rem 0; }
th, td { border: 1px solid #777; padding: .05rem .3rem; text-align: left; vertical-align: top; }
thead th { background: #e4e4e4; }
tbody th { font-weight: normal; }
td.write { min-width: 5rem; }
td.write .blank { margin-right: .4rem; }
td.write .line { width: 2.8rem; }
tr { break-inside: avoid; }
@media screen and (max-width: 45rem) { .table { overflow-wrap: anywhere; font-size: 8.5pt; } th, td { padding: .15rem .2rem; } td.write { min-width: 4rem; } }
dl { margin: .3rem 0; }
dl div { display: flex; gap: .8rem; }
dt { min-width: 7rem; font-weight: bold; }
dd { margin: 0; }
footer { margin-top: 1.5rem; break-inside: avoid; }
@media print {
  body { max-width: none; margin: 0; padding: 0; font-size: 9.5pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .chapter.next { break-before: page; }
}
`;
