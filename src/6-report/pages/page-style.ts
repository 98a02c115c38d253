/** What a report page needs beside the style of every page. `live` is set by the page's script. */
export const reportPageStyle = `
.store { position: absolute; }
.paper { display: none; }
figure.compare, .loupe { margin: 0; }
header h1 { overflow-wrap: anywhere; }
.alert { border-left: .3rem solid var(--second); padding: .25rem .7rem; }
a { color: var(--accent); }
.settings { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 22rem), 1fr)); gap: 1px; background: var(--line); border: 1px solid var(--line); margin: 1.25rem 0; }
.settings > div { background: var(--tint); padding: .7rem .9rem; }
.settings dt { display: block; font-weight: 400; color: var(--soft); }
.settings dt::after { content: none; }
.settings dd { display: block; }
.settings strong { display: block; font-size: 1.5rem; line-height: 1.25; color: var(--accent); font-variant-numeric: tabular-nums; }
.stage { position: relative; display: grid; gap: .75rem; grid-template-columns: repeat(2, minmax(0, 1fr)); container-type: inline-size; }
.panel { position: relative; }
.panel svg, .field svg { display: block; width: 100%; height: auto; aspect-ratio: var(--ratio); }
.label { position: absolute; left: .5rem; bottom: .5rem; background: #000b; color: #fff; padding: .1rem .5rem; border-radius: 1rem; font-size: .875rem; pointer-events: none; }
.stage input, .border { display: none; }
.live .stage { display: block; max-width: max(8rem, calc(80vh * var(--ratio))); }
.live .predicted { position: absolute; inset: 0; }
.live .predicted svg { clip-path: inset(0 0 0 var(--at, 50%)); }
.live .predicted .label { left: auto; right: .5rem; }
@container (max-width: 15rem) { .live .predicted .label { bottom: auto; top: .5rem; } }
.live .stage input { display: block; position: absolute; inset: 0; width: 100%; height: 100%; margin: 0; background: none; appearance: none; -webkit-appearance: none; cursor: ew-resize; touch-action: pan-y; }
.live .stage input:focus { outline: none; }
.live .stage input::-webkit-slider-runnable-track { height: 100%; background: none; }
.live .stage input::-webkit-slider-thumb { -webkit-appearance: none; width: 1px; height: 100%; background: none; border: 0; }
.live .stage input::-moz-range-track { height: 100%; background: none; }
.live .stage input::-moz-range-thumb { width: 1px; height: 100%; background: none; border: 0; }
.live .border { display: block; position: absolute; top: 0; bottom: 0; left: var(--at, 50%); width: 3px; margin-left: -1.5px; background: #fff; box-shadow: 0 0 0 1px #0009; pointer-events: none; }
.live .border::after { content: "\\2039\\2002\\203a"; position: absolute; top: 50%; left: 50%; transform: translate(-50%, -50%); width: 2.75rem; height: 2.75rem; line-height: 2.5rem; text-align: center; font-size: 1.4rem; color: #1d2327; background: #fff; border-radius: 50%; box-shadow: 0 0 0 1px #0009; }
.live .stage input:focus-visible + .border::after { outline: 3px solid #0b5563; outline-offset: 3px; box-shadow: 0 0 0 3px #fff; }
.warnings { list-style: none; padding: 0; }
.warnings li { border-left: .3rem solid var(--second); padding: .1rem .7rem; margin: .6rem 0; }
.warnings em { display: block; font-style: normal; color: var(--soft); }
.heed { gap: 0 2.5rem; }
.heed section { margin-top: 0; }
.heed section:last-child { font-size: .875rem; }
.life { display: block; flex: none; }
.bar { vertical-align: middle; display: inline-block !important; }
.views { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 17rem), 1fr)); gap: 1rem; align-items: start; }
.views p { margin: .35rem 0 0; font-size: .875rem; color: var(--soft); }
.views label { display: flex; gap: .6rem; align-items: center; white-space: nowrap; }
.views label input { flex: 1; min-width: 4rem; accent-color: var(--accent); }
.field { position: relative; margin-block: max(0px, calc(24px - 50% / var(--ratio))); max-width: max(4rem, calc(34rem * var(--ratio))); cursor: crosshair; user-select: none; -webkit-user-select: none; }
.views canvas { display: block; width: 100%; border: 1px solid var(--line); background: #fff; }
canvas.bits { image-rendering: pixelated; }
.frame, .ring { display: none; }
.live .frame, .live .ring { display: block; position: absolute; }
.frame { outline: 1px solid #fff; box-shadow: 0 0 0 2px #000; pointer-events: none; }
.ring { width: 44px; height: 44px; margin: -22px 0 0 -22px; border-radius: 50%; border: 3px solid #fff; box-shadow: 0 0 0 2px #000, inset 0 0 0 2px #000; cursor: grab; touch-action: none; }
.ring:focus-visible { outline: 3px solid var(--accent); outline-offset: 4px; }
.reach { position: absolute; outline: 2px dashed #fff; box-shadow: 0 0 0 2px #000; pointer-events: none; }
.plots { grid-template-columns: repeat(auto-fill, minmax(min(100%, 30rem), 1fr)); }
.plots .scrolls { margin-top: 2rem; }
.columns { columns: 26rem; column-gap: 2.5rem; }
.facts { width: 100%; break-inside: avoid; margin: 0 0 1.5rem; }
.facts caption { font-size: 1rem; color: var(--soft); }
.facts th, .facts td { text-align: left; vertical-align: top; white-space: normal; overflow-wrap: anywhere; }
.facts th { font-weight: 400; width: 42%; }
.facts td { font-weight: 600; }
.facts small { display: block; font-weight: 400; font-size: .8125rem; color: var(--soft); }
footer { margin-top: 2rem; overflow-wrap: anywhere; }
@media (min-width: 70rem) { .views { grid-template-columns: 1.4fr 1fr 1fr; } }
@media (prefers-reduced-motion: no-preference) { html { scroll-behavior: smooth; } }
@media print {
  .screen, .live .stage input, .live .border { display: none; }
  div.paper { display: block; }
  span.paper { display: inline; }
  .quiet { margin: 0; }
  .alert, .settings { margin: 2mm 0; }
  .settings { grid-template-columns: repeat(3, 1fr); font-size: 8pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  .settings > div { padding: 1.5mm 2mm; line-height: 1.3; }
  .settings strong { font-size: 14pt; }
  h1 { margin: 0; }
  p { margin: 1mm 0; }
  h2 { font-size: 11pt; margin: 3.5mm 0 1mm; }
  section { margin-top: 0; }
  figcaption { font-size: 8pt; max-width: none; }
  figure.compare { max-width: none !important; }
  .stage, .live .stage { display: grid; gap: 4mm; grid-template-columns: repeat(2, minmax(0, 1fr)); max-width: max(24mm, calc(120mm * var(--ratio))); }
  .field { max-width: max(10mm, calc(80mm * var(--ratio))); }
  .live .predicted { position: relative; }
  .live .predicted svg { clip-path: none; }
  .label { position: static; display: block; padding: 0; font-size: 8pt; background: none; color: inherit; }
  .heed { font-size: 8pt; line-height: 1.35; }
  .heed section:last-child { font-size: 7pt; line-height: 1.3; }
  .heed li { margin: .6mm 0; }
  .warnings li { margin: 1.5mm 0; padding: 0 2mm; }
  .keep { break-inside: avoid; }
  .keep .scrolls { overflow: hidden; }
  .beside { display: flex; gap: 6mm; align-items: start; }
  .beside .scrolls { flex: none; }
  .key, .views p { font-size: 8pt; }
  .plots { grid-template-columns: 1fr 1fr; gap: 0 8mm; }
  .plots h3 { font-size: 10pt; margin-top: 2mm; }
  .plots caption { font-size: 10pt; }
  .views { grid-template-columns: repeat(3, 1fr); gap: 4mm; }
  .ring { width: 6mm; height: 6mm; margin: -3mm 0 0 -3mm; }
  .plots .scrolls { margin-top: 4mm; }
  .plots table { font-size: 8pt; }
  .columns { columns: 2; column-gap: 8mm; }
  .facts { font-size: 8pt; margin-bottom: 4mm; }
  .facts caption { font-size: 9pt; padding: 0; }
  .facts th, .facts td { padding: .6mm 1mm; }
  .facts small { font-size: 7pt; }
}
`;
