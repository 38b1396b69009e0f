"""The style of the meter sheet's own page: black ink on A4, boxes to tick, no row broken over two pages; on a screen it follows
the reader's choice of light or dark, and on a phone each reading stands one line below the other."""

from __future__ import annotations

STYLE = """
@page { size: A4; margin: 14mm; }
body { font: 10.5pt/1.35 Georgia, "Times New Roman", serif; color: #000; background: #fff; margin: 0 auto; max-width: 180mm; }
h1 { font-size: 15pt; margin: 0 0 2mm; border-bottom: 1.5pt solid #000; }
h2 { font-size: 12pt; margin: 5mm 0 1mm; break-after: avoid; }
p { margin: 1mm 0; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 1mm 2mm 0 0; }
thead th { font-size: 9pt; border-bottom: 0.75pt solid #000; }
tbody { border-bottom: 0.5pt solid #888; break-inside: avoid; }
ul { margin: 0; padding-left: 4mm; font-size: 9.5pt; }
.meter-ticks { list-style: none; padding: 0; font-size: inherit; }
.meter-ticks li::before { content: "\\2610\\00a0"; }
.meter-warning { border: 1.5pt solid #000; padding: 2mm; font-weight: bold; }
.meter-note { list-style: none; font-style: italic; }
.meter-closing { font-size: 9pt; }
.meter-whole { white-space: nowrap; }
.meter-state th { padding-top: 2mm; }
.meter-readings { table-layout: fixed; }
.meter-readings thead th:nth-child(1) { width: 5%; }
.meter-readings thead th:nth-child(2) { width: 25%; }
.meter-readings thead th:nth-child(3) { width: 19%; }
.meter-readings thead th:nth-child(4), .meter-readings thead th:nth-child(5) { width: 15%; }
@media screen {
  body { padding: 1rem; }
}
@media screen and (max-width: 640px) {
  .meter-readings thead { display: none; }
  .meter-readings tbody, .meter-readings tr, .meter-readings td { display: block; padding: 0; }
  .meter-readings tbody { padding: 0.5rem 0; }
  .meter-readings th[scope="row"], .meter-readings th + td { display: inline; padding-right: 0.6em; font-weight: bold; }
  .meter-readings td:nth-child(4)::before { content: "Red probe: "; }
  .meter-readings td:nth-child(5)::before { content: "Black probe: "; }
  .meter-readings td:nth-child(6)::before { content: "Should show: "; }
}
@media screen and (prefers-color-scheme: dark) {
  body { color: #eee; background: #1b1b1b; }
  h1, thead th, .meter-warning { border-color: #eee; }
}
"""
