/** The look of an account in a notebook, light or dark: it takes the page's own ink and paper. */
export const accountCss = `.bq{max-width:1100px;line-height:1.45}
.bq p{margin:0 0 .6em}
.bq .bq-summary{font-size:1.05em;font-weight:600}
.bq .bq-counts{opacity:.85}
.bq .bq-caution{margin:.6em 0;padding:.45em .8em;border-left:4px solid #c77700;
  background:rgba(224,145,20,.13)}
.bq .bq-caution p{margin:0 0 .25em}
.bq .bq-caution p:last-child{margin-bottom:0}
.bq details{margin:.4em 0;border-top:1px solid rgba(128,128,128,.35)}
.bq details>summary{cursor:pointer;padding:.3em 0;font-size:.93em}
.bq h4{margin:.7em 0 .2em;font-size:.93em;font-weight:600}
.bq ul{margin:.2em 0 .5em;padding-left:1.2em}
.bq .bq-source{opacity:.75}
.bq table.bq-table{border-collapse:collapse;margin:.5em 0 .9em;font-size:.9em;table-layout:auto}
.bq table.bq-table caption{caption-side:top;text-align:left;font-weight:600;padding:.2em 0}
.bq table.bq-table th,.bq table.bq-table td{text-align:left;vertical-align:top;
  padding:.22em .9em .22em 0;border:0;background:none;white-space:normal;max-width:34em;
  overflow-wrap:break-word}
.bq table.bq-table thead th{border-bottom:1px solid currentColor;font-weight:600}
.bq table.bq-table tbody tr{background:none}
.bq table.bq-table tbody td{border-bottom:1px solid rgba(128,128,128,.25)}
.bq table.bq-table .bq-number{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
.bq table.bq-table thead .bq-number{white-space:normal}
.bq figure{margin:1em 0}
.bq figure svg{max-width:100%;height:auto;background:#fff}
.bq figcaption{font-size:.9em;opacity:.85;max-width:46em}`;
