/** The look of a print: one ink on film, four meanings that each have a shape too. Holds in greyscale and on paper. */
export const STYLE = `
:root{--board:#d9dcea;--film:#f6f6fb;--sunk:#ebecf6;--rule:#b9bdd6;--rule-strong:#6d76ab;--ink:#283583;--graphite:#515b93;--away:#c6cae0;--unknown:#626b9f;
--wash:#cbe6e0;--edge:#1d6b66;--mover:#b03414;--mover-wash:#f6d9cf;--caution:#7a4e00;--caution-wash:#f8e4b4;--band:#303f96;
--lettering:"Bahnschrift","DIN Alternate","Roboto Condensed","Liberation Sans Narrow","Arial Narrow","Noto Sans",sans-serif;
--text:-apple-system,"Segoe UI",Roboto,Inter,Ubuntu,Cantarell,"Noto Sans","Liberation Sans",system-ui,sans-serif}
*{box-sizing:border-box}
body{margin:0;background:var(--board);color:var(--ink);font:400 15px/1.45 var(--text);font-variant-numeric:tabular-nums;-webkit-print-color-adjust:exact;print-color-adjust:exact}
main{max-width:1080px;margin:24px auto;background:var(--film);border:1px solid var(--rule-strong);outline:1px solid var(--rule-strong);outline-offset:3px;padding:0 32px 24px}
.defs{position:absolute}
header{margin:0 -32px}
.band{background:var(--band);color:#fff;padding:20px 32px;display:flex;justify-content:space-between;align-items:end;gap:24px}
.kicker{margin:0 0 2px;font-family:var(--lettering);font-size:15px;opacity:.85}
h1{margin:0;font-weight:600;font-size:27px;line-height:1.2;text-wrap:balance}
.stamp{margin:0;background:#fff;color:var(--ink);padding:6px 12px;font-family:var(--lettering);border-radius:2px;white-space:nowrap}
.verdict{margin:0;padding:16px 32px;font-size:19px;line-height:1.4;font-weight:600;border-bottom:1px solid var(--rule-strong);text-wrap:pretty}
.figures{margin:0;display:grid;grid-template-columns:repeat(6,1fr);border-bottom:1px solid var(--rule-strong)}
.figures div{padding:12px 16px 12px 32px}
.figures div+div{border-left:1px solid var(--rule);padding-left:16px}
dt{font-size:13px;color:var(--graphite)}
dd{margin:0;font:600 26px/1.2 var(--lettering)}
small{font-size:15px;font-weight:400;color:var(--graphite)}
h2{margin:28px 0 10px;font-weight:600;font-size:16px}
section svg{display:block;width:100%;height:auto}
.sheet{border:2px solid var(--ink);outline:1px solid var(--ink);outline-offset:2px;margin:2px}
.titleblock,.legend{display:flex;flex-wrap:wrap;gap:4px 22px;margin:0;padding:8px 14px;border-top:1px solid var(--ink);font-family:var(--lettering);font-size:14px}
.legend{border:0;padding:6px 0 0;color:var(--graphite)}
.titleblock span,.legend span{display:inline-flex;align-items:center;gap:8px}
.titleblock span:last-child{margin-left:auto;color:var(--graphite)}
.key{display:inline-block;width:24px;height:14px}
.key.face{height:0;border-top:3.25px solid var(--ink)}
.key.driven{height:0;border-top:2px dashed var(--graphite)}
.key.dots{height:0;border-top:3px dotted var(--graphite)}
.key.away{border:1px solid var(--rule-strong);background:repeating-linear-gradient(135deg,var(--away) 0 1px,transparent 1px 6px)}
.key.blind{border:1px solid var(--unknown);background:repeating-linear-gradient(45deg,var(--unknown) 0 1.2px,transparent 1.2px 5px)}
.key.number{width:18px;height:18px;border-radius:9px;background:var(--ink);color:#fff;font:600 12px/18px var(--lettering);text-align:center}
svg.sign{width:16px;height:16px;display:inline-block;flex:none}
.nears{display:grid;grid-template-columns:repeat(3,1fr);gap:16px}
.near{margin:0}
figcaption{padding:5px 2px 0;font-family:var(--lettering);font-size:15px}
figcaption b{display:inline-block;min-width:20px;height:20px;border-radius:10px;background:var(--ink);color:#fff;text-align:center;font-size:13px;line-height:20px;margin-right:6px}
.pair{display:grid;grid-template-columns:1fr 1fr;gap:32px}
.quiet{color:var(--graphite)}
p{margin:8px 0}
.sound{color:var(--edge);font-weight:600}
table{border-collapse:collapse;width:100%;font-size:14px}
th{text-align:left;font-weight:400;color:var(--graphite);font-size:13px;border-bottom:1px solid var(--rule-strong);padding:0 12px 4px 0}
td{vertical-align:top;padding:6px 12px 6px 0;border-bottom:1px solid var(--rule)}
td.num,td.time{font-family:var(--lettering);white-space:nowrap}
code{font:13px ui-monospace,"Cascadia Mono",Menlo,"Liberation Mono",monospace}
footer{margin-top:28px;border-top:1px solid var(--rule-strong);padding-top:8px;font-size:14px}
text{fill:var(--ink);font-family:var(--lettering)}
.tick{font-size:12.5px;fill:var(--graphite)}
.label{font:600 14px var(--text)}
.figure{font-size:15px;font-weight:600;text-anchor:middle}
.mid{text-anchor:middle}.end{text-anchor:end}
.halo{paint-order:stroke;stroke:var(--film);stroke-width:4.5px;stroke-linejoin:round}
.well{fill:var(--sunk)}.film{fill:var(--film)}
.wash{fill:var(--wash)}
.view{fill:var(--film)}
.edge{fill:none;stroke:var(--edge);stroke-width:1.4;stroke-linejoin:round}
.curve{fill:none;stroke:var(--ink);stroke-width:1.4;stroke-linejoin:round}
.second{fill:none;stroke:var(--edge);stroke-width:1.4;stroke-dasharray:5 3}
.thin{fill:none;stroke:var(--rule-strong)}
.dash{fill:none;stroke:var(--ink);stroke-dasharray:6 4}
.hatch{stroke:var(--unknown);stroke-width:2.2}
.hatch-away{stroke:var(--away);stroke-width:1.6}
.echoes{fill:none;stroke:var(--graphite);stroke-linecap:round}
.face{fill:none;stroke:var(--ink);stroke-width:3.25}
.path{fill:none;stroke:var(--ink);stroke-width:1.8;stroke-dasharray:14 4 2 4}
.halo-line{stroke:var(--film);stroke-width:5;stroke-dasharray:none}
.frame{fill:none;stroke:var(--ink)}
.cart{fill:var(--ink)}
.chevron{fill:none;stroke:#fff;stroke-width:1.6}
.pin{fill:var(--ink);stroke:var(--film);stroke-width:1.5}
.pin-text{fill:#fff;font-size:12.5px;font-weight:600;text-anchor:middle}
.dimension{fill:none;stroke:var(--edge);stroke-width:1.6}
.near .figure{fill:var(--edge)}
.mover{fill:var(--mover-wash);stroke:var(--mover);stroke-width:2}
.caution{fill:var(--caution-wash);stroke:var(--caution);stroke-width:1.6}
.fault{fill:var(--film);stroke:var(--ink);stroke-width:1.6}
.ink-fill{fill:var(--ink)}
.dot{fill:var(--ink)}
.stem{stroke:var(--rule);stroke-width:1}
@media screen and (max-width:760px){main{margin:0;border:0;outline:0;padding:0 16px 16px}header{margin:0 -16px}.band{padding:16px;flex-direction:column;align-items:start}.verdict{padding:12px 16px;font-size:17px}.figures{grid-template-columns:repeat(3,1fr)}.figures div,.figures div+div{padding:8px 16px;border-left:0}.nears{grid-template-columns:repeat(2,1fr)}.pair{grid-template-columns:1fr;gap:0}}
@page{size:A4;margin:11mm}
@media print{html{font-size:12px}body{background:none;font-size:12px}main{margin:0;max-width:none;border:0;outline:0;padding:0}header{margin:0}.band{padding:12px 16px}.verdict{padding:10px 16px;font-size:15px}.figures div,.figures div+div{padding:8px 16px}dd{font-size:20px}h2{margin:18px 0 6px;break-after:avoid}.keep,.near,tr,.sheet{break-inside:avoid}.pair{gap:20px}}
`;
