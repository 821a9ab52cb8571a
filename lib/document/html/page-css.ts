import { accountCss } from "../../step/show/account-css.js";

const screen = `
:root{--ink:#222426;--quiet:#5d6266;--rule:#c9cdd1;--paper:#fff;--wash:#f4f5f6;--accent:#76376f}
*{box-sizing:border-box}
html{scroll-behavior:smooth;-webkit-text-size-adjust:100%}
body{margin:0;background:var(--paper);color:var(--ink);
  font:16px/1.55 Georgia,"Liberation Serif","Times New Roman",serif}
.sheet{display:grid;grid-template-columns:15rem minmax(0,1fr);gap:0 3.2rem;max-width:86rem;
  margin:0 auto;padding:2.5rem 2rem 5rem}
header.title{grid-column:2;border-bottom:2px solid var(--ink);margin-bottom:1.6rem;
  padding-bottom:.4rem}
h1,h2,h3,h4,nav,table,figcaption,summary,pre,.kind,.bq,.front{font-family:Arial,"Liberation Sans",
  Helvetica,sans-serif}
h1{font-size:1.9rem;line-height:1.2;margin:0 0 .5rem}
h2{font-size:1.35rem;line-height:1.25;margin:3rem 0 .7rem;padding-top:.5rem;
  border-top:1px solid var(--rule)}
h3{font-size:1.08rem;margin:2rem 0 .4rem}
h4{font-size:.95rem;margin:1.3rem 0 .3rem}
.title-block{columns:2;column-gap:2.5rem;display:block;font-size:.84rem;margin:.4rem 0 1rem}
.title-block tbody{display:block}
.title-block tr{display:grid;grid-template-columns:6.5rem 1fr;break-inside:avoid}
.title-block th{font-weight:normal;color:var(--quiet)}
.title-block .missing{color:var(--quiet);font-style:italic}
main{grid-column:2;min-width:0;max-width:1100px}
main>.words{max-width:44rem}
main>.words table{max-width:none}
p,ul,ol{margin:0 0 .8em}
a{color:var(--accent);text-underline-offset:2px}
nav.contents{grid-column:1;grid-row:1/span 3;align-self:start;position:sticky;top:2.5rem;
  max-height:calc(100vh - 4rem);overflow:auto;font-size:.84rem;line-height:1.35}
nav.contents p{margin:0 0 .6rem;font-weight:bold}
nav.contents ol{list-style:none;margin:0 0 1.4rem;padding:0}
nav.contents li{margin:0 0 .42rem}
nav.contents li.deeper{padding-left:.9rem}
nav.contents a{color:var(--quiet);text-decoration:none}
nav.contents a:hover{color:var(--ink);text-decoration:underline}
.front{margin:1.4rem 0 2rem;padding:.9rem 1.1rem;border-left:4px solid #c77700;background:#fdf5e6;
  font-size:.9rem;line-height:1.45}
.front p{margin:0 0 .4rem;font-weight:bold}
.front ul{margin:0;padding-left:1.1rem}
.front li{margin:0 0 .25rem}
.front a,.annex a{color:inherit;text-decoration:none}
.front a{text-decoration:underline}
.annex a:hover{text-decoration:underline}
.annex summary{font-size:.84rem;color:var(--quiet)}
code,pre,kbd,samp{font-family:"DejaVu Sans Mono",Consolas,Menlo,monospace;font-size:.86em}
pre{background:var(--wash);padding:.7rem .9rem;overflow-x:auto;line-height:1.42;margin:.5rem 0;
  white-space:pre-wrap;overflow-wrap:anywhere;font-size:.8rem}
pre code{font-size:1em}
blockquote{margin:1rem 0;padding:.1rem 1rem;border-left:3px solid var(--rule);color:var(--quiet)}
img{max-width:100%;height:auto}
.cell{margin:1.2rem 0 1.6rem}
.cell.silent{margin:.2rem 0}
.output{margin:.6rem 0;overflow-x:auto}
.output .kind,.stream .kind{margin:0;font-size:.8rem;font-weight:bold}
.error{border-left:4px solid #a3262a;padding-left:.9rem}
.error .kind{color:#a3262a}
.unrun{color:var(--quiet);font-style:italic}
figure{margin:1.6rem 0 1.8rem}
.drawing svg,.drawing img{display:block;max-width:100%;height:auto}
.drawing{position:relative}
.drawing .place{position:absolute;top:0;bottom:0;width:0;border-left:1px dashed var(--accent);
  pointer-events:none;display:none}
.drawing .live{display:none}
.ready .drawing>.live{display:block}
.ready .drawing>svg{display:none}
figcaption{font-size:.84rem;line-height:1.45;color:var(--quiet);max-width:52rem;margin-top:.3rem}
figcaption b{color:var(--ink)}
details.made{margin:.5rem 0;font-size:.84rem}
details.made>summary{cursor:pointer;color:var(--quiet)}
table{border-collapse:collapse;font-size:.86rem;line-height:1.4;margin:.8rem 0 1.2rem}
th,td{text-align:left;vertical-align:top;padding:.25rem 1rem .25rem 0;
  border-bottom:1px solid #e2e4e7}
thead th{border-bottom:1px solid var(--ink)}
.wide{overflow-x:auto;margin:.8rem 0 1.2rem}
.wide>table{margin:0;overflow-wrap:normal;hyphens:none}
.wide caption{position:sticky;left:0}
.wide .long{min-width:15em}
.wide th:first-child,.wide td:first-child{position:sticky;left:0;background:var(--paper)}
.bq .wide>table.bq-table td{overflow-wrap:normal;max-width:34em}
td[align=right],th[align=right]{text-align:right}
.decision,.bq-decision{font-family:Arial,"Liberation Sans",Helvetica,sans-serif;font-size:.92rem;
  border-left:4px solid var(--accent);background:var(--wash);padding:.5rem .9rem;margin:.6rem 0}
.bq-decision p{margin:0}
.bq{font-size:.92rem}
.skip{position:absolute;left:-99rem}
.skip:focus{left:1rem;top:.5rem;background:var(--paper);padding:.3rem .6rem}
:focus-visible{outline:2px solid var(--accent);outline-offset:2px}
.number{margin-right:.3em}
ul.sources>li{margin-bottom:.5rem}
#tip{position:fixed;z-index:9;pointer-events:none;display:none;max-width:26rem;background:#222426;
  color:#fff;padding:.35rem .6rem;border-radius:3px;
  font:12px/1.4 Arial,"Liberation Sans",Helvetica,sans-serif}
#tip b{font-weight:normal;opacity:.75}
@media(max-width:70rem){.sheet{display:block;padding:1.4rem 1rem 3rem}nav.contents{position:static;
  max-height:none;margin:1.2rem 0}}`;

const print = `
@page{size:A4;margin:17mm 15mm 19mm 18mm;@bottom-right{content:counter(page) " / " counter(pages);
  font:8pt Arial,"Liberation Sans",sans-serif;color:#5d6266}}
@page turned{size:A4 landscape}
@media print{
body{font-size:10pt;line-height:1.42}
.sheet{display:block;max-width:none;padding:0}
main,main>.words{max-width:none}
h1{font-size:20pt}
h2{font-size:14pt;margin:16pt 0 6pt}
h3{font-size:11.5pt;margin:12pt 0 4pt}
h1,h2,h3,h4{break-after:avoid;break-inside:avoid}
p,li{orphans:3;widows:3}
a{color:inherit;text-decoration:none}
nav.contents{position:static;max-height:none;overflow:visible;columns:2;column-gap:10mm;
  font-size:8.5pt;margin:8pt 0 14pt}
nav.contents p{break-after:avoid}
.front{break-inside:auto;background:none;border:1px solid #c77700;border-left-width:4px;
  font-size:9pt}
figure{break-inside:avoid;margin:10pt 0 12pt}
.drawing svg,.drawing img{max-width:100%;max-height:225mm}
.ready .drawing>svg{display:block}
.ready .drawing>.live{display:none}
figcaption{font-size:8.5pt;max-width:none;break-before:avoid}
table,.bq table.bq-table{font-size:7.5pt}
.small table,.small table.bq-table{font-size:6.3pt}
.wide{overflow:visible}
.wide .long{min-width:0}
.wide th:first-child,.wide td:first-child,.wide caption{position:static}
.wide td,.wide th,.bq .wide td,.bq .wide th{padding-right:5pt}
.turned{page:turned;break-before:page;break-after:page}
.skip{display:none}
thead{display:table-header-group}
tr,.bq-caution,.bq-decision,table.bq-short{break-inside:avoid}
caption{break-after:avoid}
.output{overflow:visible}
pre{background:none;border-left:2px solid var(--rule);font-size:7.5pt}
details>summary{list-style:none;break-after:avoid}
details>summary::-webkit-details-marker{display:none}
details::details-content{content-visibility:visible;display:block;block-size:auto}
details.made>pre{display:none}
details.made{font-size:7.5pt;color:#5d6266}
.bq{max-width:none;font-size:9pt}
.bq .bq-summary{break-after:avoid;break-inside:avoid}
.bq .bq-counts{break-before:avoid}
.bq-caution{background:none !important;border:1px solid #c77700;border-left-width:4px}
#tip,.place{display:none !important}
}`;

/** The page's own look, on a screen and on A4 paper. */
export const pageCss = `${accountCss}${screen}${print}`.replaceAll("\n\n", "\n");
