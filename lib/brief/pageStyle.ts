/** Black on white whatever the reader's theme: it is a sheet of paper, and goes on one. */
export const pageStyle = `
:root{color-scheme:light}
*{box-sizing:border-box}
body{font:1rem/1.45 system-ui,"Noto Sans",sans-serif;margin:0;background:#fff;color:#1b252c;overflow-wrap:anywhere}
main{max-width:60rem;margin:0 auto;padding:1rem}
h1{font-size:1.375rem;line-height:1.25;margin:.1em 0}
h2{font-size:1rem;margin:1.1em 0 .3em;padding-bottom:.15em;border-bottom:2px solid #0b4a6f}
p,ul,ol,table,figure,dl{margin:.35em 0}
ul,ol{padding-left:1.3em}
li{margin:.3em 0}
small{font-size:.875em;color:#46535c}
.title{font-weight:bold;color:#0b4a6f;margin:0}
dl>div{display:flex;gap:.5em}
dt{flex:0 0 5em;color:#46535c}
dd{margin:0}
.reason{border-left:4px solid #7b9bb3;padding-left:.6em}
.why{list-style:none;padding:0}
.why li{border-left:4px solid #7b9bb3;padding-left:.6em}
.why .urgent{border-color:#a4460d}
.why .soon{border-color:#c98a1b}
svg{display:block;width:100%;height:auto;font-family:inherit}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;vertical-align:top;padding:.2em .5em .2em 0;border-bottom:1px solid #d5dbe0}
th{font-weight:normal;color:#46535c}
.number{white-space:nowrap;font-weight:bold}
.boxes{list-style:none;padding:0}
.boxes li{padding-left:1.5em;position:relative}
.boxes li::before{content:"";position:absolute;left:0;top:.3em;width:.75em;height:.75em;border:1.5px solid #46535c}
footer{margin-top:1em;font-size:.8125rem;color:#46535c}
@media (min-width:52rem){.columns{display:grid;grid-template-columns:1fr 1fr;column-gap:2rem}}
@page{margin:10mm}
@media print{
body{font-size:8.3pt;line-height:1.28}
main{max-width:none;padding:0}
.columns{display:grid;grid-template-columns:1fr 1fr;column-gap:6mm}
main.less{font-size:7.4pt}
main.small{font-size:6.7pt;line-height:1.2}
main.less svg,main.small svg{width:84%;margin:auto}
h1{font-size:12pt}
h2{font-size:9pt;margin:.6em 0 .2em;border-bottom-width:1px}
h2,li,tr,figure{break-inside:avoid}
p,ul,ol,table,figure,dl{margin:.2em 0}
li{margin:.15em 0}
th,td{padding:.08em .5em .08em 0}
dl{columns:2;column-gap:6mm}
dl>div{break-inside:avoid}
.cautions{columns:2;column-gap:6mm}
footer{font-size:7pt;margin-top:.4em}
}`;
