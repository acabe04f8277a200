"""The look of the page: plain, light and dark, for a phone, a screen and paper."""

STYLE = """
:root { color-scheme: light dark; --ink: #22303c; --paper: #fbfaf7; --card: #ffffff;
  --rule: #c9ced3; --metal: #8a99a8; --bare: #8a7a5c; --mark: #b8430f; --fail: #a51c1c;
  --heed: #8a5a00; --soft: #55636f;
  --rail: #f3f1ec; --c-rust: #b5532a; --c-blue: #2a6fb5; --c-violet: #7a4fa3; --c-green: #3f8f5a;
  --c-olive: #8a7a2c; --c-rose: #c23b76; --c-teal: #168a8a; }
@media (prefers-color-scheme: dark) { :root { --ink: #dfe5ea; --paper: #161a1e; --card: #1e242a;
  --rule: #3c4751; --metal: #8fa0b1; --bare: #c0aa7c; --mark: #ff9a66; --fail: #ff8f8f;
  --heed: #f0bd5a; --soft: #a4b0ba; --rail: #2b2a26; --c-rust: #ee8f66; --c-blue: #6fb0f0;
  --c-violet: #c39be8; --c-green: #77c996; --c-olive: #cdbb62; --c-rose: #f086b3;
  --c-teal: #53c6c6; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 0 .9rem 3rem; max-width: 76rem; background: var(--paper);
  color: var(--ink); font: 1rem/1.45 system-ui, sans-serif; overflow-wrap: anywhere; }
h1 { font-size: 1.6rem; line-height: 1.2; margin: 1.2rem 0 .3rem; }
h2 { font-size: 1.25rem; margin: 2.4rem 0 .6rem; padding-bottom: .2rem;
  border-bottom: 2px solid var(--rule); }
h3 { font-size: 1.05rem; margin: 1.2rem 0 .3rem; }
p { margin: .3rem 0; }
p, li { max-width: 62rem; }
ul, ol { margin: .4rem 0; padding-left: 1.3rem; }
ol { padding-left: 2.2rem; }
li { margin: .3rem 0; }
a { color: inherit; }
nav ul { list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .2rem .9rem; }
nav a { display: inline-block; padding: .45rem 0; }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; font-size: .93rem; }
th, td { text-align: left; vertical-align: top; padding: .3rem .5rem;
  border-bottom: 1px solid var(--rule); overflow-wrap: break-word; }
th { font-weight: 600; color: var(--soft); }
.n { text-align: right; font-variant-numeric: tabular-nums; }
figure { margin: .6rem 0; }
figure svg { display: block; width: 100%; height: auto; max-height: 36rem; }
figcaption, .source { color: var(--soft); font-size: .88rem; }
.stop { border: 3px solid var(--fail); color: var(--fail); font-weight: 700; padding: .6rem .8rem;
  margin: .8rem 0; }
.caution { border-left: 4px solid var(--mark); padding: .1rem .8rem .1rem 1.6rem;
  background: var(--card); }
.verdict { font-size: 1.15rem; font-weight: 600; padding: .3rem .7rem; margin: .6rem 0;
  border-left: 5px solid var(--c-green); }
.verdict.fail { border-color: var(--fail); }
.verdict.heed { border-color: var(--heed); }
summary { cursor: pointer; padding: .5rem 0; color: var(--soft); }
.plate, .finding { border: 1px solid var(--rule); background: var(--card);
  padding: .2rem .8rem .7rem; margin: .8rem 0; }
.finding { display: flex; flex-wrap: wrap; gap: .3rem 1.5rem; align-items: flex-start; }
.finding > div { flex: 1 1 16rem; }
.finding figure { flex: 1 1 12rem; }
.finding figure.mount { flex-basis: 26rem; }
.fail { border-left: 5px solid var(--fail); }
.heed { border-left: 5px solid var(--heed); }
.figures { font-variant-numeric: tabular-nums; font-weight: 600; }
.hold { border: 2px solid var(--mark); padding: .3rem .7rem; margin: .6rem 0; }
.blank { display: inline-block; min-width: 5.5rem; border-bottom: 1px solid currentColor;
  height: 1.3em; }
.wide { min-width: 11rem; }
.stamp, .on-paper { display: none; }
footer { margin-top: 3rem; color: var(--soft); font-size: .88rem; }
@media print, screen and (min-width: 60rem) {
  .plates { display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: .8rem; }
  .plates .plate { margin: 0; }
}
@media (max-width: 40rem) {
  table:not(.narrow) thead { position: absolute; width: 1px; height: 1px; overflow: hidden;
    clip-path: inset(50%); }
  table:not(.narrow), table:not(.narrow) :is(tbody, tr, td) { display: block; }
  table:not(.narrow) tr { border: 1px solid var(--rule); background: var(--card); margin: .5rem 0;
    padding: .25rem 0; }
  table:not(.narrow) td { overflow-wrap: anywhere; border: 0; text-align: left;
    padding: .15rem .6rem; display: flex; gap: .6rem; }
  table:not(.narrow) td::before { content: attr(data-label); color: var(--soft);
    flex: 0 0 6.2rem; }
  table:not(.narrow) td:empty { display: none; }
  figure.fine { overflow-x: auto; }
  figure.fine svg { width: 32rem; max-height: none; }
  table.narrow td { overflow-wrap: break-word; }
  table.narrow td:first-child { min-width: 6rem; overflow-wrap: anywhere; }
  table.narrow td.n { white-space: nowrap; }
}
@media print {
  :root { color-scheme: light; --ink: #000; --paper: #fff; --card: #fff; --rule: #999;
    --metal: #8a99a8; --bare: #8a7a5c; --mark: #b8430f; --fail: #a51c1c; --heed: #8a5a00;
    --soft: #333;
    --rail: #f3f1ec; --c-rust: #b5532a; --c-blue: #2a6fb5; --c-violet: #7a4fa3; --c-green: #3f8f5a;
    --c-olive: #8a7a2c; --c-rose: #c23b76; --c-teal: #168a8a; }
  @page { margin: 12mm; }
  :root { font-size: 9pt; }
  body { padding: 0; max-width: none; line-height: 1.3; }
  nav { display: none; }
  h2 { margin-top: 1.4rem; }
  td, th { padding: .15rem .4rem; }
  li { margin: .15rem 0; }
  .stopped :is(#assembly, #hardware, #cut-list, #sheets, #time, #tolerances, #weld-map, #weld,
    #fit-up, #as-built) { display: none; }
  h2, h3, :is(h2, h3) + p, p.hold { break-after: avoid; }
  tr, figure, p, .plate, .finding, li { break-inside: avoid; }
  figure svg { max-height: 84mm; }
  .finding figure svg { max-height: 40mm; }
  .finding figure.mount svg { max-height: 95mm; }
  #fit figure svg { max-height: 125mm; }
  #weld-map figure svg { max-height: 150mm; }
  #fit-up, #as-built { break-before: page; }
  .on-paper { display: block; }
  .stamp { display: block; position: fixed; top: 45%; left: 0; right: 0; text-align: center;
    font-size: 30pt; font-weight: 700; color: rgba(165, 28, 28, .28); transform: rotate(-24deg); }
}
"""
