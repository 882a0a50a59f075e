/**
 * How the page of a report looks, in light, in dark and on paper. How salt is known is told by lightness and outline as
 * well as by colour; on a narrow page a table is stacked, its figures first. Colours stand out from the page by 3 to 1 or more, text by 4.5 to 1 (WCAG 2.2, 1.4.3 and 1.4.11).
 */
export const pageStyle = `
:root{color-scheme:light dark;--page:#fff;--ink:#1b252c;--quiet:#46535c;--rule:#d5dbe0;--accent:#0b4a6f;--measured:#0b4a6f;--inferred:#8fb3cc;--edge:#0b4a6f;--wasted:#a4460d;--axis:#5b6770}
@media (prefers-color-scheme:dark){:root{--page:#14181c;--ink:#e9edf0;--quiet:#a9b4bd;--rule:#39424a;--accent:#7cc0ea;--measured:#8fcdf2;--inferred:#2f6788;--edge:#8fcdf2;--wasted:#f0955a;--axis:#8b96a0}}
*{box-sizing:border-box}
body{font:1rem/1.5 system-ui,"Noto Sans",sans-serif;margin:0;background:var(--page);color:var(--ink);overflow-wrap:break-word}
main{max-width:58rem;margin:0 auto;padding:1.25rem 1rem 3rem}
h1{font-size:1.625rem;line-height:1.25;margin:.1em 0;overflow-wrap:anywhere}
h2{font-size:1.1875rem;line-height:1.3;margin:2.2em 0 .5em;padding-bottom:.15em;border-bottom:2px solid var(--accent)}
h3{font-size:1rem;margin:1.2em 0 .2em}
p{margin:.5em 0;max-width:48rem}
a{color:var(--accent)}
.title{font-weight:bold;color:var(--accent);margin:0}
.quiet,.facts,figcaption,footer{color:var(--quiet);font-size:.9375rem}
.facts{list-style:none;padding:0;margin:.4em 0}
.caution{border-left:4px solid var(--wasted);padding-left:.7em}
nav ul{columns:2;column-gap:2rem;padding-left:1.2em;margin:.6em 0}
.figures{display:grid;grid-template-columns:repeat(auto-fit,minmax(12.5rem,1fr));gap:.75rem;margin:1em 0;padding:0}
.figures>div{border:1px solid var(--rule);border-top:3px solid var(--accent);padding:.6em .8em}
.figures dt{font-size:.9375rem;color:var(--quiet)}
.figures dd{margin:0}
.figures .value{font-size:1.375rem;font-weight:bold;line-height:1.3}
.figures .note{font-size:.8125rem;color:var(--quiet)}
figure{margin:1em 0}
.scroll{overflow-x:auto;background:linear-gradient(to right,var(--page) 30%,transparent) local 0 0/2.5rem 100% no-repeat,linear-gradient(to left,var(--page) 30%,transparent) local 100% 0/2.5rem 100% no-repeat,linear-gradient(to right,var(--axis),transparent) scroll 0 0/.7rem 100% no-repeat,linear-gradient(to left,var(--axis),transparent) scroll 100% 0/.7rem 100% no-repeat}
svg{display:block;width:100%;min-width:36rem;height:auto;font-family:inherit;fill:var(--ink)}
.grid{stroke:var(--rule);stroke-width:.6;fill:none}
.axis{stroke:var(--axis);stroke-width:.9;fill:none}
.measured{fill:var(--measured);stroke:var(--edge);stroke-width:.8}
.inferred{fill:var(--inferred);stroke:var(--edge);stroke-width:.8}
.imputed{fill:var(--page);stroke:var(--edge);stroke-width:.8}
.unparted{fill:var(--rule);stroke:var(--axis);stroke-width:.8}
.wasted{fill:var(--wasted)}
.whisker{stroke:var(--ink);stroke-width:1.3;fill:none}
table{border-collapse:collapse;width:100%;font-size:.9375rem;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:bold;padding:.4em 0}
th,td{text-align:left;vertical-align:top;padding:.3em .9em .3em 0;border-bottom:1px solid var(--rule);font-weight:normal}
thead th{color:var(--quiet);vertical-align:bottom}
.number{text-align:right;white-space:nowrap}
thead .number{white-space:normal}
tr.total>*{font-weight:bold;border-top:1px solid var(--axis)}
.formula{font-family:ui-monospace,"DejaVu Sans Mono",monospace;font-size:.875rem}
footer{margin-top:2.5em}
@page{margin:16mm 14mm}
@media screen and (max-width:40rem){
nav ul{columns:1}
table,caption,tbody,tr,th,td{display:block}
thead{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
tr{display:flex;flex-direction:column;padding:.5em 0;border-bottom:1px solid var(--axis)}
th,td{padding:.1em 0;border:0}
tbody th{font-weight:bold;order:-2}
td::before{content:attr(data-head) ": ";color:var(--quiet);font-weight:normal}
td.number{order:-1;display:flex;justify-content:space-between;gap:1rem;white-space:normal}
td:empty,td.number:empty{display:none}
tr.total>*{border-top:0}
}
@media print{
:root{color-scheme:light;--page:#fff;--ink:#1b252c;--quiet:#46535c;--rule:#d5dbe0;--accent:#0b4a6f;--measured:#0b4a6f;--inferred:#8fb3cc;--edge:#0b4a6f;--wasted:#a4460d;--axis:#5b6770}
html{font-size:9.5pt}
body{line-height:1.4}
main{max-width:none;padding:0}
nav{display:none}
h2,h3,caption{break-after:avoid}
tr,figure,.figures>div,.step{break-inside:avoid}
.figures{grid-template-columns:repeat(4,1fr)}
.figures .value{font-size:12pt}
svg{min-width:0;print-color-adjust:exact;-webkit-print-color-adjust:exact}
.scroll{overflow:visible;background:none}
}`;
