/**
 * How the page of a trial looks, in light, in dark and on paper. What changes is told by place (before above after) and
 * by fill as well as by colour; colours stand out from the page by 3 to 1 or more, text by 4.5 to 1 (WCAG 2.2, 1.4.3
 * and 1.4.11).
 */
export const STYLE = `
:root { color-scheme: light dark; --page: #fff; --ink: #1a1f24; --quiet: #56606a; --rule: #dfe3e7; --same: #8b95a0; --moved: #00609c; --gone: #b8500a; --new: #0b6e4f; --pale: #a9c3d6 }
@media (prefers-color-scheme: dark) { :root { --page: #14181c; --ink: #e9edf0; --quiet: #a5afb8; --rule: #323a41; --same: #76818c; --moved: #6cbcf0; --gone: #f0955a; --new: #5fcfa4; --pale: #3f5c72 } }
* { box-sizing: border-box }
body { font: 16px/1.5 system-ui, sans-serif; color: var(--ink); background: var(--page); margin: 1.5rem auto; max-width: 60rem; padding: 0 1rem; overflow-wrap: anywhere }
h1 { font-size: 1.5rem; margin: .2rem 0 } h2 { font-size: 1.1rem; margin: 2.2rem 0 .2rem } h3 { font-size: .95rem; margin: 1.2rem 0 .2rem }
p { margin: .3rem 0 .8rem; max-width: 46rem } .lead { font-size: 1.1rem } .quiet, small { font-size: .88rem; color: var(--quiet); font-weight: normal }
figure { margin: 0 } svg { display: block } svg text { font: 12px system-ui, sans-serif; fill: var(--quiet) } .grid { stroke: var(--rule) }
.before { fill: var(--pale) } .after { fill: var(--moved) }
.same { fill: var(--same); stroke: var(--same) } .moved { fill: var(--moved); stroke: var(--moved) } .new { fill: var(--new); stroke: var(--new) } .gone { fill: var(--page); stroke: var(--gone) }
rect { stroke-width: 0 } .strips rect, .key rect { stroke-width: 2; stroke-linejoin: round }
.scroll { overflow-x: auto; background: linear-gradient(to right, var(--page) 30%, transparent) left / 2rem 100%, linear-gradient(to left, var(--page) 30%, transparent) right / 2rem 100%, linear-gradient(to right, var(--rule), transparent) left / .6rem 100%, linear-gradient(to left, var(--rule), transparent) right / .6rem 100%; background-repeat: no-repeat; background-attachment: local, local, scroll, scroll }
table { border-collapse: collapse; font-size: .88rem; font-variant-numeric: tabular-nums; width: 100% }
th, td { padding: .25rem .5rem; text-align: right; font-weight: normal; white-space: nowrap; border-bottom: 1px solid var(--rule) } thead th { color: var(--quiet); vertical-align: bottom }
th:first-child, td:first-child { text-align: left; padding-left: 0 } tr.all th, tr.all td { font-weight: 600 } .rules td { white-space: normal; overflow-wrap: anywhere } .rules td:last-child { font-weight: 600 }
.few { max-width: 24rem } .zero { color: var(--quiet) }
.strips { display: grid; grid-template-columns: 10.5rem 1fr; align-items: center; row-gap: .1rem } .kind { font-size: .82rem; color: var(--quiet) }
.key { display: flex; flex-wrap: wrap; gap: .2rem 1.2rem; list-style: none; padding: 0; margin: .4rem 0; font-size: .88rem; color: var(--quiet) } .key li { display: flex; align-items: center; gap: .4rem }
details { font-size: .88rem } summary { cursor: pointer; color: var(--quiet) } details ul { margin: .3rem 0; padding-left: 1.2rem }
.warning { border-left: 4px solid var(--gone); padding-left: .7rem }
@media (max-width: 34rem) { .strips { grid-template-columns: 1fr } .strips > span:empty { display: none } }
@media print { :root { color-scheme: light; --page: #fff; --ink: #000; --quiet: #444; --rule: #ccc } body { margin: 0; max-width: none } article, tr { break-inside: avoid } svg { print-color-adjust: exact } }
`;
