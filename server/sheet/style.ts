// How the bench sheet looks: plain, in grey, for paper first.

export const STYLE = `
:root { color: #111; background: #fff; font: 11pt/1.4 Georgia, "Times New Roman", serif; }
body { max-width: 48rem; margin: 1.5rem auto; padding: 0 1rem; }
h1 { font-size: 20pt; margin: 0 0 .2rem; }
h2 { font-size: 14pt; border-bottom: 2px solid #111; margin: 1.6rem 0 .6rem; break-after: avoid; }
h3 { font-size: 11.5pt; margin: .8rem 0 .3rem; break-after: avoid; }
.small { font-size: 9pt; color: #444; font-weight: normal; }
.first { border: 1px solid #444; padding: .5rem .8rem; }
.caution { border-left: .5rem solid #111; padding: .2rem .6rem; background: #eee; }
.hold { border: 2px solid #111; padding: .3rem .6rem; }
.note { font-style: italic; margin: .2rem 0 .2rem 1.6rem; }
.step { break-inside: avoid; border-top: 1px solid #999; padding-bottom: .3rem; }
.actions { list-style: none; padding-left: 0; margin: .2rem 0; }
.actions li { padding-left: 1.6rem; text-indent: -1.6rem; margin: .15rem 0; }
.actions li > div { text-indent: 0; }
.box { display: inline-block; width: .8em; height: .8em; border: 1.5px solid #111; margin-right: .6em; vertical-align: -.05em; }
.torque, .rule, .measure { margin: .1rem 0 .2rem 0; padding-left: .8rem; border-left: 2px solid #999; }
.stage { white-space: nowrap; }
.order { margin: .3rem 0; }
.order figcaption { font-size: 9pt; color: #444; }
.order td { border: 1px solid #111; border-radius: 50%; width: 1.7em; height: 1.7em; text-align: center; }
.order table { border-spacing: .5em .2em; }
.blank { display: inline-block; margin-right: 1rem; }
.line { display: inline-block; min-width: 6rem; border-bottom: 1px solid #111; margin-left: .3rem; height: 1em; }
.sign { margin: .3rem 0; }
.columns { display: grid; grid-template-columns: repeat(auto-fit, minmax(14rem, 1fr)); gap: 0 1.5rem; }
table.wide { border-collapse: collapse; width: 100%; font-size: 9.5pt; }
table.wide th, table.wide td { border: 1px solid #777; padding: .2rem .4rem; text-align: left; vertical-align: top; }
table.wide th[scope=row] { font-weight: normal; }
table.wide td.write { min-width: 6rem; }
table.wide tr { break-inside: avoid; }
@page { margin: 14mm; }
@media print { body { max-width: none; margin: 0; padding: 0; } }
`;
