/**
 * How the page of the comparisons looks, in light and in dark. Colours stand out from the page by 3 to 1 or more, text by
 * 4.5 to 1 (WCAG 2.2, 1.4.3 and 1.4.11); on a narrow page a table is stacked.
 */
export const pageStyle = `
:root{color-scheme:light dark;--page:#fff;--ink:#1b252c;--quiet:#46535c;--rule:#d5dbe0;--axis:#5b6770;--accent:#0b4a6f;--broken:#a4460d;--s1:#0b4a6f;--s2:#a4460d;--s3:#4a7a1f;--s4:#7a3f8f;--s5:#5b6770;--s6:#8a6d00}
@media (prefers-color-scheme:dark){:root{--page:#14181c;--ink:#e9edf0;--quiet:#a9b4bd;--rule:#39424a;--axis:#8b96a0;--accent:#7cc0ea;--broken:#f0955a;--s1:#8fcdf2;--s2:#f0955a;--s3:#9fd06a;--s4:#d3a0e6;--s5:#a9b4bd;--s6:#e0c04a}}
*{box-sizing:border-box}
body{font:1rem/1.5 system-ui,"Noto Sans",sans-serif;margin:0;background:var(--page);color:var(--ink);overflow-wrap:break-word}
main{max-width:62rem;margin:0 auto;padding:1.25rem 1rem 3rem}
h1{font-size:1.625rem;line-height:1.25;margin:.1em 0}
h2{font-size:1.1875rem;line-height:1.3;margin:2.2em 0 .5em;padding-bottom:.15em;border-bottom:2px solid var(--accent)}
p{margin:.5em 0;max-width:48rem}
a{color:var(--accent)}
.quiet,footer{color:var(--quiet);font-size:.9375rem}
figure{margin:1.2em 0}
figcaption{font-weight:bold;margin-bottom:.3em}
.scroll{overflow-x:auto}
svg{display:block;width:100%;min-width:34rem;max-width:52rem;height:auto;font-family:inherit;fill:var(--ink)}
.grid{stroke:var(--rule);stroke-width:.6;fill:none}
.axis{stroke:var(--axis);stroke-width:.9;fill:none}
.whisker{stroke:var(--ink);stroke-width:1.3;fill:none}
.bar{fill:var(--s1)}
polyline.first,polyline.second,polyline.third,polyline.fourth,polyline.fifth,polyline.sixth{fill:none;stroke-width:1.6}
.first{fill:var(--s1);stroke:var(--s1)}
.second{fill:var(--s2);stroke:var(--s2)}
polyline.second{stroke-dasharray:7 3}
.third{fill:var(--s3);stroke:var(--s3)}
polyline.third{stroke-dasharray:2 3}
.fourth{fill:var(--s4);stroke:var(--s4)}
polyline.fourth{stroke-dasharray:9 3 2 3}
.fifth{fill:var(--s5);stroke:var(--s5)}
polyline.fifth{stroke-dasharray:4 4}
.sixth{fill:var(--s6);stroke:var(--s6)}
polyline.sixth{stroke-dasharray:12 4}
table{border-collapse:collapse;width:100%;font-size:.9375rem;font-variant-numeric:tabular-nums;margin:.8em 0}
caption{text-align:left;font-weight:bold;padding:.4em 0}
th,td{text-align:left;vertical-align:top;padding:.35em .9em .35em 0;border-bottom:1px solid var(--rule);font-weight:normal}
thead th{color:var(--quiet);vertical-align:bottom}
.number{text-align:right;white-space:nowrap}
.holds{white-space:nowrap}
.broken .holds{color:var(--broken);font-weight:bold}
.because{border-left:4px solid var(--broken);padding-left:.7em}
li{max-width:48rem}
footer{margin-top:2.5em}
@media screen and (max-width:40rem){
table,caption,tbody,tr,th,td{display:block}
thead{position:absolute;clip-path:inset(50%);width:1px;height:1px;overflow:hidden}
tr{padding:.5em 0;border-bottom:1px solid var(--axis)}
th,td{padding:.1em 0;border:0}
tbody th{font-weight:bold}
td[data-head]::before{content:attr(data-head) ": ";color:var(--quiet)}
td.number{text-align:left;white-space:normal}
td:empty{display:none}
}`;
