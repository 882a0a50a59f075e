/**
 * How the report looks, in light, in dark and on paper. Colours of the families differ in lightness as well, and each
 * stands out from the page by 3 to 1 or more, text by 4.5 to 1 (WCAG 2.2, 1.4.3 and 1.4.11).
 */
export const STYLE = `
:root { color-scheme: light dark; --page: #fff; --ink: #1a1f24; --quiet: #56606a; --rule: #dfe3e7; --band: #e4efe9;
  --f0: #00609c; --f1: #b8500a; --f2: #5b7a1d; --f3: #8c5a94 }
@media (prefers-color-scheme: dark) { :root { --page: #14181c; --ink: #e9edf0; --quiet: #a5afb8; --rule: #323a41; --band: #20352b;
  --f0: #6cbcf0; --f1: #f0955a; --f2: #a9c95f; --f3: #cfa3d8 } }
body { font: 16px/1.5 system-ui, sans-serif; color: var(--ink); background: var(--page); margin: 2rem auto; max-width: 54rem; padding: 0 1rem }
h1 { font-size: 1.5rem } h2 { font-size: 1.1rem; margin: 2.2rem 0 .2rem } p, dl { max-width: 44rem } p { margin: .2rem 0 .8rem }
figure { margin: 0; overflow-x: auto } svg { display: block; width: 100%; min-width: 36rem; height: auto } svg text { font: 13px system-ui, sans-serif; fill: var(--ink) } svg .label { fill: var(--quiet) }
.grid { stroke: var(--rule) } .axis { stroke: var(--quiet) } .band { fill: var(--band) } .goal { stroke: var(--ink); stroke-dasharray: 5 4 }
.line { fill: none; stroke-width: 2 } .line.f0 { stroke: var(--f0); stroke-width: 2.5 } .line.f1 { stroke: var(--f1) } .line.f2 { stroke: var(--f2) } .line.f3 { stroke: var(--f3) }
.mark { stroke: var(--page); stroke-width: 1 } .mark.f0 { fill: var(--f0) } .mark.f1 { fill: var(--f1) } .mark.f2 { fill: var(--f2) } .mark.f3 { fill: var(--f3) }
.dot, .bar { fill: var(--f0) } .bar { fill-opacity: .6 } .dot { stroke: var(--page); stroke-width: .8 } .fan { fill: var(--f0); fill-opacity: .22 } .median { fill: none; stroke: var(--f0); stroke-width: 1.5 }
.held { fill: var(--ink) } .missed { fill: var(--page); stroke: var(--f1); stroke-width: 2 }
.scroll { overflow-x: auto } table { border-collapse: collapse; font-size: .82rem; font-variant-numeric: tabular-nums; white-space: nowrap; width: 100% }
th, td { padding: .22rem .45rem; text-align: right; font-weight: normal } thead th { border-bottom: 1px solid var(--quiet); color: var(--quiet) }
tbody th { text-align: left } tbody tr.span th { font-weight: 600; padding-top: .8rem; border-bottom: 1px solid var(--rule) } tr.ours { font-weight: 600 } tr.ours th { font-weight: 600 }
dt { font-weight: 600; float: left; clear: left; margin-right: .5rem } dd { margin: 0 0 .3rem } dl, .quiet { font-size: .88rem; color: var(--quiet) }
@media print { :root { color-scheme: light; --page: #fff; --ink: #000; --quiet: #444; --rule: #ccc; --band: #e4efe9; --f0: #00609c; --f1: #b8500a; --f2: #5b7a1d; --f3: #8c5a94 }
  body { margin: 0; max-width: none } section, tbody { break-inside: avoid } figure { overflow: visible } svg { min-width: 0; print-color-adjust: exact } .scroll { overflow: visible } table { font-size: .7rem } }
`;
