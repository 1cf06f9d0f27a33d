// How the bench page looks: black on white or, where the tablet is set so, light on dark; large, few rules, nothing that needs a colour to be
// understood. Touched with gloves: nothing that is tapped is smaller than 12 mm. Three sizes of letters: text, what is done, figures.

const LIGHT =
  'color-scheme: light; --paper: #fff; --ink: #000; --soft: #3a3a3a; --line: #767676; --wash: #ededed; --picture: none;';
const DARK =
  'color-scheme: dark; --paper: #101010; --ink: #fff; --soft: #d0d0d0; --line: #8f8f8f; --wash: #262626; --picture: invert(.94);';

// In a panel of the editor the editor's theme counts, not the tablet's.
export const BENCH_STYLE = `
:root { --touch: 3rem; ${LIGHT} }
@media (prefers-color-scheme: dark) { :root { ${DARK} } }
.vscode-light, .vscode-high-contrast-light { ${LIGHT} }
.vscode-dark, .vscode-high-contrast:not(.vscode-high-contrast-light) { ${DARK} }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; scroll-padding: 5rem 0 6rem; }
body { margin: 0; padding: 0; background: var(--paper); color: var(--ink); font: 1.1875rem/1.4 "Liberation Sans", "Helvetica Neue", Arial, sans-serif; font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
h1, h2, h3, p, ul, ol, dl, dd, fieldset, figure { margin: 0; padding: 0; }
h1 { font-size: 1.75rem; line-height: 1.2; }
h2 { font-size: 1em; line-height: 1.25; margin: 1.6rem 0 .5rem; }
h1:focus { outline: none; }
ul, ol { list-style: none; }
fieldset { border: 0; min-width: 0; }
legend { padding: 0; font-weight: bold; }
button, select, input, textarea, summary, .tap { font: inherit; color: inherit; min-height: var(--touch); min-width: var(--touch); }
button, .tap { border: 2px solid var(--ink); border-radius: .5rem; background: var(--paper); padding: .4rem 1rem; font-weight: bold; cursor: pointer; touch-action: manipulation; text-align: left; }
button.main { background: var(--ink); color: var(--paper); text-align: center; }
button:disabled { border-style: dashed; color: var(--soft); background: var(--paper); }
button[aria-current], button[aria-pressed="true"] { background: var(--ink); color: var(--paper); }
input, select, textarea { border: 2px solid var(--line); border-radius: .4rem; background: var(--paper); padding: .4rem .6rem; }
textarea { width: 100%; min-height: 6rem; }
input[type="checkbox"] { appearance: none; -webkit-appearance: none; flex: none; width: var(--touch); height: var(--touch); margin: 0; padding: 0; border: 3px solid var(--ink); border-radius: .4rem; background: var(--paper); display: grid; place-items: center; cursor: pointer; touch-action: manipulation; }
input[type="checkbox"]:checked { background: var(--ink); }
input[type="checkbox"]:checked::after { content: ""; width: 1rem; height: 1.7rem; border: solid var(--paper); border-width: 0 .35rem .35rem 0; transform: translateY(-.2rem) rotate(42deg); }
input[type="checkbox"]:indeterminate::after { content: ""; width: 1.5rem; height: .4rem; background: var(--ink); }
:focus-visible { outline: 4px solid var(--ink); outline-offset: 3px; }
summary { display: flex; align-items: center; gap: .6rem; cursor: pointer; font-weight: bold; }
summary::before { content: "+"; font-size: 1.75rem; line-height: 1; width: 1.4rem; text-align: center; }
details[open] > summary::before { content: "\\2212"; }
.soft { color: var(--soft); }
.frame { display: grid; grid-template: auto 1fr auto / 100%; min-height: 100vh; min-height: 100dvh; }
.top { position: sticky; top: 0; z-index: 2; background: var(--paper); border-bottom: 2px solid var(--ink); display: flex; flex-wrap: wrap; gap: .4rem .8rem; align-items: center; padding: .4rem 1rem; }
.top .which { flex: 1 1 12rem; min-width: 0; line-height: 1.2; }
.top .which strong { display: block; }
.bottom { position: sticky; bottom: 0; z-index: 2; background: var(--paper); border-top: 2px solid var(--ink); display: flex; gap: .8rem; padding: .5rem 1rem; }
.bottom.still { position: static; }
.bottom button { min-height: 3.75rem; }
.bottom .main { flex: 1; }
@media (max-width: 480px) { .top .which { flex-basis: 100%; } .top button { flex: 1; text-align: center; } }
main { width: 100%; max-width: 58rem; margin: 0 auto; padding: 1rem 1rem 2rem; }
.aside { display: none; }
@media (min-width: 1100px) {
  .frame.two { grid-template: auto 1fr auto / 21rem 1fr; }
  .frame.two > .top, .frame.two > .bottom { grid-column: 1 / -1; }
  .frame.two > .aside { display: block; border-right: 2px solid var(--ink); padding: 1rem; position: sticky; top: 4.2rem; max-height: calc(100vh - 9rem); overflow-y: auto; }
}
.kicker { display: flex; flex-wrap: wrap; gap: .2rem 1rem; color: var(--soft); margin-bottom: .2rem; }
.caution { border: 2px solid var(--ink); border-left-width: 1rem; padding: .5rem .8rem; margin: .8rem 0; background: var(--wash); font-weight: bold; }
.caution.usual { font-weight: normal; background: var(--paper); }
.notice { border: 3px solid var(--ink); padding: .6rem .9rem; margin: .8rem 0; }
.notice.bad { background: var(--ink); color: var(--paper); }
.places, .row { display: flex; flex-wrap: wrap; gap: .6rem; margin: .7rem 0; align-items: end; }
.places button { text-align: center; }
.lines > li { border-top: 1px solid var(--line); padding: .9rem 0; }
.lines > li:first-child { border-top: 0; }
.line { display: flex; gap: .9rem; align-items: flex-start; }
.line .what { flex: 1; min-width: 0; }
.line label.name { display: block; font-weight: bold; line-height: 1.3; padding: .55rem 0; cursor: pointer; }
.minds { margin: .1rem 0 .3rem; }
.minds li { padding: .1rem 0 .1rem 1rem; border-left: 4px solid var(--line); }
.figure { font-size: 2.6rem; font-weight: bold; line-height: 1.1; margin: .3rem 0; }
.figure .other, .figure .behind { font-size: 1.1875rem; font-weight: normal; }
.figure .other { white-space: nowrap; }
.own { display: block; font-size: 1.75rem; line-height: 1.2; }
.use { margin-top: .3rem; font-weight: bold; }
.stage { display: flex; flex-wrap: wrap; align-items: center; gap: .3rem .9rem; padding: .35rem 0; }
.stage.had, .stage.later { color: var(--soft); }
.stage.had .figure, .stage.later .figure { font-size: 1em; font-weight: normal; }
.ticks { display: flex; flex-wrap: wrap; gap: .6rem; margin: .5rem 0; }
.ticks label, .bolts label { display: flex; align-items: center; gap: .5rem; font-weight: bold; cursor: pointer; }
.scroll { overflow-x: auto; }
.bolts { position: relative; margin: .4rem 0; }
.bolts label { position: absolute; display: grid; place-items: center; }
.bolts input { border-radius: 50%; grid-area: 1 / 1; }
.bolts span { grid-area: 1 / 1; pointer-events: none; z-index: 1; }
.bolts input:checked::after { content: none; }
.bolts input:checked + span { color: var(--paper); }
.front { font-weight: bold; }
.fields { display: grid; grid-template-columns: repeat(auto-fill, minmax(15.5rem, 1fr)); gap: .9rem 1.2rem; margin: .7rem 0; }
.field > label, .field > .label { display: block; font-weight: bold; margin-bottom: .4rem; }
.field > input { width: 100%; }
.field .entry { display: flex; gap: .4rem; }
.field.many { grid-column: 1 / -1; }
.field.many .entry { flex-wrap: wrap; }
.field.many .entry input { flex: 0 1 9.5rem; }
.field .entry input { flex: 1 1 6rem; min-width: 5rem; width: 6rem; font-size: 1.75rem; font-weight: bold; min-height: 3.75rem; }
.field .entry select { min-height: 3.75rem; }
.verdict { font-weight: bold; padding: .25rem .5rem; margin-top: .3rem; border: 2px solid transparent; min-height: 2.2rem; }
.verdict.inside { border-color: var(--ink); }
.verdict.worn, .verdict.select { border: 2px dashed var(--ink); }
.verdict.outside, .verdict.slip, .verdict.wrong-kind { background: var(--ink); color: var(--paper); border-color: var(--ink); }
.hold { border: 4px solid var(--ink); padding: .8rem 1rem; }
.hold h2, .lines h2 { margin: 0 0 .2rem; }
.clock { display: flex; flex-wrap: wrap; gap: .6rem 1rem; align-items: center; margin: .4rem 0; }
.pictures { margin-top: 1.4rem; border-top: 1px solid var(--line); }
.pictures svg { display: block; width: min(100%, 44rem); height: auto; max-height: 85vh; filter: var(--picture); }
.all button { display: grid; grid-template-columns: 3.2rem 1fr auto; gap: .6rem; width: 100%; align-items: center; border: 0; border-top: 1px solid var(--line); border-radius: 0; padding: .4rem .3rem; font-weight: normal; }
.all .state { font-weight: bold; white-space: nowrap; }
.all .held .state, .all .begun .state { border: 2px solid currentColor; padding: 0 .4rem; }
.all .done { color: var(--soft); }
.all .done[aria-current] { color: var(--paper); }
.list li { padding: .2rem 0 .2rem 1.2rem; text-indent: -1.2rem; }
.list li::before { content: "\\2013\\00a0\\00a0"; }
pre { white-space: pre-wrap; border: 1px solid var(--line); padding: .8rem; font: 1em/1.4 "Liberation Mono", "Courier New", monospace; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem .35rem 0; border-top: 1px solid var(--line); }
.off { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
`;
