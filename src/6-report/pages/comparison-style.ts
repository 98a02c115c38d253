/** What the page of a comparison needs beside the style of every page. `live` is set by the page's script. */
export const comparisonPageStyle = `
main { max-width: 88rem; }
.live-only { display: none; }
.live .live-only { display: revert; }
header h1, .card h3, .settings strong { overflow-wrap: anywhere; }
a { color: var(--accent); }
.settings { display: grid; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 1px; background: var(--line); border: 1px solid var(--line); margin: 1.25rem 0; }
.settings > div { background: var(--tint); padding: .7rem .9rem; }
.settings dt { display: block; font-weight: 400; color: var(--soft); }
.settings dt::after { content: none; }
.settings dd { display: block; }
.settings strong { display: block; font-size: 1.2rem; line-height: 1.3; }
button, select { font: inherit; font-size: .875rem; color: var(--ink); background: var(--paper); border: 1px solid var(--faint); border-radius: .3rem; min-height: 2.1rem; padding: .2rem .6rem; max-width: 100%; }
button { cursor: pointer; }
button:disabled { color: var(--soft); border-color: var(--line); cursor: default; }
button:hover:not(:disabled) { border-color: var(--accent); color: var(--accent); }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
input[type=range] { accent-color: var(--accent); }
.live .tools { position: sticky; top: 0; z-index: 5; display: flex; flex-wrap: wrap; align-items: center; gap: .4rem .9rem; padding: .5rem 0; background: var(--paper); border-bottom: 1px solid var(--line); font-size: .875rem; }
.tools label, .zooming { display: inline-flex; align-items: center; gap: .4rem; white-space: nowrap; min-width: 0; }
.tools select { max-width: 13rem; }
.zooming button { min-width: 2.1rem; }
.zoom { width: 8rem; }
.tools output { color: var(--soft); flex: 1 1 12rem; min-width: 0; min-height: 1.3rem; }
.way { min-width: 6.9rem; }
.view { position: relative; display: block; overflow: hidden; contain: layout paint; aspect-ratio: var(--ratio); background: var(--tint); padding: 0; border: 0; border-radius: 0; user-select: none; -webkit-user-select: none; touch-action: pan-y; }
.plane { position: absolute; display: block; left: calc(-100% * var(--x) * var(--z, 1) * var(--fill-x)); top: calc(-100% * var(--y) * var(--z, 1) * var(--fill-y)); width: calc(100% * var(--z, 1) * var(--fill-x)); height: calc(100% * var(--z, 1) * var(--fill-y)); pointer-events: none; }
.plane img { position: absolute; display: block; max-width: none; }
.whole { inset: 0; width: 100%; height: 100%; }
.near { visibility: hidden; }
.dots { image-rendering: pixelated; }
.see-marks .close .marks, .see-dots .close .dots { visibility: visible; }
.reach { position: absolute; outline: 2px dashed #fff; box-shadow: 0 0 0 2px #000; visibility: hidden; }
.zoomed .reach, .stage .reach { visibility: visible; }
.close .reach { visibility: hidden; }
.two { display: grid; gap: 1rem 2rem; grid-template-columns: minmax(0, 1fr) minmax(18rem, 26rem); align-items: start; }
#two, .card { scroll-margin-top: 4.5rem; }
.two figure { max-width: max(14rem, calc(72vh * var(--ratio))); width: 100%; justify-self: center; }
.stage { width: 100%; cursor: grab; }
.stage:active { cursor: grabbing; }
.zoomed .stage { touch-action: none; }
.layer { position: absolute; inset: 0; overflow: hidden; }
.layer.right { clip-path: inset(0 0 0 var(--at, 50%)); }
.label { position: absolute; left: .5rem; bottom: .5rem; max-width: 45%; background: #000c; color: #fff; padding: .1rem .5rem; border-radius: .4rem; font-size: .8125rem; line-height: 1.35; overflow: hidden; max-height: calc(2.7em + .2rem); overflow-wrap: anywhere; pointer-events: none; }
.right .label { left: auto; right: .5rem; }
.border { position: absolute; top: 0; bottom: 0; left: var(--at, 50%); width: 44px; margin-left: -22px; cursor: ew-resize; touch-action: none; }
.border::before { content: ""; position: absolute; inset: 0 20.5px; background: #fff; box-shadow: 0 0 0 1px #0009; }
.border::after { content: "\\2039\\2002\\203a"; position: absolute; top: 50%; left: 50%; transform: translate(-50%, -50%); width: 2.5rem; height: 2.5rem; line-height: 2.2rem; text-align: center; font-size: 1.3rem; color: #1d2327; background: #fff; border-radius: 50%; box-shadow: 0 0 0 1px #0009; }
.slide { display: block; width: 100%; margin: .5rem 0 .25rem; }
.picks { display: grid; gap: .5rem; margin-bottom: .75rem; }
.pick { display: grid; grid-template-columns: 3rem minmax(0, 1fr); align-items: center; font-size: .875rem; color: var(--soft); }
.pick select { width: 100%; font-weight: 400; }
.facing { width: 100%; table-layout: fixed; }
.facing td, .facing th { padding: .15rem .4rem; font-size: .8125rem; }
.facing tbody th { font-weight: 400; color: var(--soft); text-align: left; white-space: normal; width: 40%; }
.facing td { white-space: normal; overflow-wrap: anywhere; }
.facing td { font-weight: 600; }
.sheet { list-style: none; padding: 0; margin: 1rem 0 0; max-width: none; display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 17rem), 1fr)); gap: 1.5rem 1.25rem; align-items: start; }
.card { margin: 0; min-width: 0; break-inside: avoid; }
.card .view { width: 100%; max-width: max(8rem, calc(26rem * var(--ratio))); cursor: pointer; min-height: 0; }
.card h3 { margin: .5rem 0 .1rem; }
.wins { position: absolute; right: .35rem; top: .35rem; display: flex; flex-direction: column; align-items: flex-end; gap: .2rem; }
.win { display: inline-block; background: var(--accent); color: var(--paper); border-radius: .3rem; padding: 0 .45rem; font-size: .8125rem; font-weight: 600; box-shadow: 0 0 0 1px var(--paper); }
.side { position: absolute; left: 0; top: 0; background: #000c; color: #fff; font-size: .8125rem; padding: .1rem .6rem; }
.side:empty { display: none; }
.view[aria-pressed=true] { outline: 4px solid var(--second); outline-offset: 0; }
.view[aria-pressed=true]:focus-visible { outline-color: var(--accent); }
.figures { display: grid; grid-template-columns: minmax(0, 1.13fr) minmax(0, 1fr); gap: 0 .6rem; margin: .25rem 0; font-size: .75rem; }
.figures > div { display: flex; justify-content: space-between; gap: .4rem; border-bottom: 1px solid var(--line); padding: .1rem .15rem; break-inside: avoid; }
.figures dt { font-weight: 400; color: var(--soft); }
.figures dt::after { content: none; }
.figures dd { color: var(--ink); font-weight: 600; font-variant-numeric: tabular-nums; white-space: nowrap; }
.figures .sorted { background: var(--tint); box-shadow: inset 3px 0 0 var(--accent); padding-left: .4rem; }
details { font-size: .8125rem; }
summary { cursor: pointer; color: var(--soft); padding: .2rem 0; }
.bars-of-all { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 15rem), 1fr)); gap: 1.1rem 1.5rem; }
.plot h3 { margin: 0 0 .3rem; }
.plot h3 button { border: 0; padding: 0; min-height: 1.6rem; font-size: .9375rem; font-weight: 600; background: none; text-align: left; }
.plot h3 button[aria-pressed=true] { color: var(--accent); text-decoration: underline; }
.bars { position: relative; display: flex; align-items: stretch; height: 5rem; gap: 2px; }
.bars::after { content: ""; position: absolute; left: 0; right: 0; bottom: var(--zero); border-bottom: 1px solid var(--faint); }
.bar { position: relative; flex: 1 1 0; min-width: 0; max-width: 3rem; cursor: pointer; }
.bar i { position: absolute; left: 0; right: 0; background: var(--faint); print-color-adjust: exact; -webkit-print-color-adjust: exact; }
.bar:hover i { background: var(--ink); }
.bar.left i { background: var(--second); }
.bar.right i { background: var(--accent); }
.plot figcaption { font-size: .8125rem; line-height: 1.35; overflow-wrap: anywhere; }
.pick.left, .facing th:nth-child(2) { color: var(--second); font-weight: 600; }
.pick.right, .facing th:nth-child(3) { color: var(--accent); font-weight: 600; }
td.words { white-space: normal; min-width: 12rem; }
.to-two { display: none; }
.live .to-two.shown { display: block; position: fixed; right: 1rem; bottom: 1rem; z-index: 6; max-width: min(24rem, calc(100vw - 2rem)); background: var(--accent); color: var(--paper); padding: .6rem 1rem; border-radius: .5rem; font-size: .875rem; font-weight: 600; text-decoration: none; box-shadow: 0 2px 8px #0006; overflow-wrap: anywhere; }
footer { margin-top: 2rem; }
@media (max-width: 60rem) { .two { grid-template-columns: minmax(0, 1fr); } }
@media (max-width: 42rem) { .settings { grid-template-columns: minmax(0, 1fr); } .live .tools { position: static; } #two, .card { scroll-margin-top: .5rem; } .tools label { flex: 1 1 100%; } .tools label select { flex: 1; max-width: none; } .zoom { width: 5rem; flex: 1; } .zooming { flex: 1 1 100%; } .pick select, .tools select, .tools button { min-height: 2.75rem; } }
@media print {
  .screen, .live .live-only.screen, details, .live .to-two.shown { display: none; }
  .settings { grid-template-columns: repeat(3, 1fr); font-size: 8pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .settings strong { font-size: 11pt; }
  .sheet { grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 5mm; }
  .card h3 { font-size: 9pt; margin-top: 1mm; }
  .figures { font-size: 6.5pt; gap: 0 2mm; }
  .figures > div { padding: 0; }
  .win { font-size: 7pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .view { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .two { grid-template-columns: 1.6fr 1fr; }
  .facing td, .facing th { font-size: 7pt; padding: .2mm 1mm; }
  #plots-head + p { break-after: avoid; }
  .bars-of-all { grid-template-columns: repeat(4, minmax(0, 1fr)); gap: 4mm; }
  .bars { height: 14mm; }
  .plot h3 button { font-size: 8pt; }
  .plot figcaption { font-size: 6.5pt; }
}
`;
