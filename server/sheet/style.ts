// How the bench sheet looks: plain, in grey, for paper first. Black on white also where an editor is dark.

export const STYLE = `
:root { color-scheme: light; background: #fff; }
body { color: #111; background: #fff; font: 10.5pt/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; max-width: 50rem; margin: 1.5rem auto; padding: 0 1.2rem; font-variant-numeric: tabular-nums; }
h1 { font-size: 19pt; line-height: 1.15; margin: 0 0 .2rem; }
h2 { font-size: 14pt; border-bottom: 2.5px solid #111; margin: 2rem 0 .5rem; padding-bottom: .1rem; }
h3 { font-size: 12pt; margin: 1.4rem 0 .4rem; padding: .2rem .5rem; background: #e4e4e4; }
h4 { font-size: 10.5pt; margin: .5rem 0 .25rem; }
h1, h2, h3, h4 { break-after: avoid; }
p { margin: .2rem 0; }
header { border-bottom: 2.5px solid #111; padding-bottom: .4rem; margin-bottom: .8rem; }
.kind { font-size: 9pt; letter-spacing: .08em; text-transform: uppercase; color: #444; margin: 0; }
.draft { display: inline-block; border: 2px solid #111; padding: .1rem .5rem; font-weight: bold; }
.label { font-size: 8.5pt; font-weight: normal; color: #444; }
.first { border: 1.5px solid #111; padding: .3rem .7rem; }
.caution { border: 1px solid #111; border-left-width: .5rem; padding: .15rem .6rem; background: #ececec; }
.caution.usual { background: #fff; font-size: 9.5pt; }
.tools { font-size: 9.5pt; }
.step { break-inside: avoid; border-bottom: 1px solid #888; padding: .1rem 0 .35rem; }
.number { display: inline-block; min-width: 2.5rem; }
ul { list-style: none; margin: .2rem 0; padding: 0; }
.lines > li { margin: .25rem 0; }
.lines > .action { display: flex; gap: .5rem; align-items: baseline; }
.lines > .action > div { flex: 1; }
.actions li { padding-left: 1.5rem; text-indent: -1.5rem; margin: .12rem 0; }
.boxes { display: inline-flex; flex-wrap: wrap; gap: .25rem; text-indent: 0; max-width: 9rem; }
.box { display: inline-block; box-sizing: border-box; min-width: 1.15em; height: 1.15em; border: 1.3px solid #111; border-radius: 2px; font-size: 8.5pt; line-height: 1.05em; text-align: center; color: #444; padding: 0 .15em; vertical-align: -.15em; }
.box:empty { min-width: 1.1em; }
.actions .box, .stages .box { margin-right: .35rem; }
.torque, .measure, .mind { margin: .15rem 0 .15rem .2rem; padding-left: .6rem; border-left: 2px solid #999; font-size: 10pt; }
.torque .mind { border: 0; margin: .1rem 0; padding: 0; }
.stages { display: flex; flex-wrap: wrap; gap: .1rem 1.3rem; }
.stages li { white-space: nowrap; }
.order { margin: .3rem 0; }
.order svg { max-width: 100%; height: auto; font-family: inherit; }
.order figcaption { font-size: 8.5pt; color: #444; }
.note { font-style: italic; margin-left: 1.6rem !important; }
.hold { border: 2px solid #111; padding: .25rem .6rem; }
.blank { display: inline-flex; align-items: baseline; gap: .3rem; margin: .25rem .9rem 0 0; white-space: nowrap; }
.blank .line { display: inline-block; width: 4.5rem; border-bottom: 1px solid #111; height: 1.1em; }
.blank.wide .line { width: 9rem; }
.sign { margin: .35rem 0 0; }
.columns { display: grid; grid-template-columns: repeat(auto-fit, minmax(12rem, 1fr)); gap: 0 1.5rem; }
table { border-collapse: collapse; width: 100%; font-size: 9.5pt; margin: .4rem 0; }
caption { text-align: left; font-weight: bold; padding: .2rem 0; }
th, td { border: 1px solid #777; padding: .2rem .4rem; text-align: left; vertical-align: top; }
thead th { background: #e4e4e4; }
tbody th { font-weight: normal; }
td.write { min-width: 8rem; }
td.write .blank { margin-right: .4rem; }
td.write .line { width: 2.8rem; }
tr { break-inside: avoid; }
@media screen and (max-width: 45rem) { .table { overflow-wrap: anywhere; font-size: 8.5pt; } th, td { padding: .15rem .2rem; } td.write { min-width: 4rem; } }
dl { margin: .3rem 0; }
dl div { display: flex; gap: .8rem; }
dt { min-width: 7rem; font-weight: bold; }
dd { margin: 0; }
footer { margin-top: 1.5rem; break-inside: avoid; }
@page { margin: 13mm 14mm 16mm; @bottom-right { content: counter(page) " / " counter(pages); font: 8.5pt Arial, Helvetica, sans-serif; } }
@media print {
  body { max-width: none; margin: 0; padding: 0; font-size: 9.8pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .chapter.next { break-before: page; }
}
`;
