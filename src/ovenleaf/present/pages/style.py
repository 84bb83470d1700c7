"""How the pages of a book look: light and dark by the reader's own setting, from 360 px of width on, and on paper."""

from __future__ import annotations

STYLE = """\
:root { color-scheme: light dark; --ink: #1d1a16; --paper: #fffdf8; --soft: #5c5348; --line: #cfc5b6; --way: #7a3b00; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #f1ebe1; --paper: #1c1916; --soft: #c3b8a8; --line: #554c41; --way: #f0b673; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 48rem; color: var(--ink); background: var(--paper);
  font: 1.0625rem/1.5 Georgia, "Times New Roman", serif; overflow-wrap: break-word; }
.long { overflow-wrap: anywhere; }
a { color: var(--way); text-underline-offset: .15em; }
nav { display: flex; flex-wrap: wrap; gap: .25rem 1.5rem; border-bottom: 1px solid var(--line); }
nav a { padding: .6rem 0; }
nav a[aria-current] { color: var(--ink); font-weight: bold; text-decoration: none; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 1rem 0 .5rem; }
h2 { font-size: 1.2rem; line-height: 1.25; margin: 2rem 0 .5rem; }
h3 { font-size: 1.08rem; line-height: 1.3; margin: 1.5rem 0 .25rem; }
h4 { font-size: 1rem; margin: 1rem 0 .25rem; }
p { margin: .5rem 0; }
p.in { margin: .25rem 0 .25rem 1rem; }
section.bake { border-top: 1px solid var(--line); margin-top: 1.5rem; }
section.bake h3 { font-size: 1.2rem; }
table { border-collapse: collapse; width: 100%; margin: .25rem 0 .75rem; }
th, td { text-align: left; font-weight: normal; vertical-align: top; padding: .3rem .5rem .3rem 0;
  border-bottom: 1px solid var(--line); }
th[scope="col"] { color: var(--soft); font-size: .9rem; vertical-align: bottom; }
th:last-child, td:last-child { padding-right: 0; }
.n { text-align: right; font-variant-numeric: tabular-nums; }
.n + td:not(.n), .n + th:not(.n) { padding-left: .4rem; }
ul.ways { list-style: none; padding: 0; margin: .5rem 0; display: flex; flex-wrap: wrap; gap: 0 1.25rem; }
ul.ways a { display: inline-block; padding: .5rem 0; }
ul.plain { list-style: none; padding: 0; margin: .25rem 0; }
ul.plain li { padding: .6rem 0; border-bottom: 1px solid var(--line); }
ul.plain span { display: block; color: var(--soft); font-size: .95rem; }
figure { margin: .75rem 0; }
figcaption { color: var(--soft); font-size: .95rem; }
img { max-width: 100%; height: auto; background: #fff; }
label { display: block; }
input { display: block; width: 100%; font: inherit; padding: .6rem; margin: .25rem 0; color: var(--ink);
  background: var(--paper); border: 1px solid var(--soft); border-radius: .25rem; }
footer { margin-top: 2.5rem; color: var(--soft); font-size: .95rem; }
[hidden] { display: none; }
:target { outline: 2px solid var(--way); outline-offset: .5rem; }
@media (max-width: 30rem) {
  body { padding: .75rem; font-size: 1rem; }
  th, td { padding-right: .35rem; }
  .many th[scope="col"] { display: none; }
  .many tr { display: block; border-bottom: 1px solid var(--line); padding: .3rem 0; }
  .many :is(th, td) { display: inline-block; border: 0; padding: 0 .75rem 0 0; }
  .many [data-of]::before { content: attr(data-of) " "; color: var(--soft); }
}
@media print {
  :root { --ink: #000; --paper: #fff; --soft: #000; --line: #999; --way: #000; }
  body { max-width: none; font-size: 10.5pt; }
  nav, ul.ways, label { display: none; }
  tr, figure { break-inside: avoid; }
  h2, h3, h4 { break-after: avoid; }
  a { text-decoration: none; }
}
"""
