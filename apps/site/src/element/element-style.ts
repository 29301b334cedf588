/** A constructed sheet, which a page's policy for styles does not bar; `light-dark` follows the colour scheme of the page that the element stands in. */
export const ELEMENT_STYLE = `
:host{display:block;max-width:26rem;font:400 1rem/1.45 inherit;font-family:inherit;font-variant-numeric:tabular-nums;
--paper:#fff;--ink:#0e1916;--soft:#44534d;--line:#c5d0ca;--sky:#e1eae6;--land:#24493f}
:host([hidden]){display:none}
@supports (color:light-dark(#000,#fff)){:host{--paper:light-dark(#fff,#131d1a);--ink:light-dark(#0e1916,#f0f5f2);--soft:light-dark(#44534d,#b3c2bb);--line:light-dark(#c5d0ca,#31413b);--sky:light-dark(#e1eae6,#33463f);--land:light-dark(#24493f,#0d1714)}}
section{background:var(--paper);color:var(--ink);border:1px solid var(--line);border-radius:.6rem;padding:1rem 1.1rem}
p,ul{margin:0}
.title{font-weight:700;color:var(--soft)}
.clock{font-size:3rem;line-height:1.1;font-weight:750;letter-spacing:-.04em}
.what{font-weight:700}
.headline{margin:.15rem 0 .6rem}
.skyline{display:block;width:100%;height:auto;margin:0 0 .7rem}
.sky{fill:var(--sky)}.land{fill:var(--land)}
ul{padding-left:1.1rem}
li+li{margin-top:.25rem}
.caution,.credit{margin-top:.7rem;font-size:.875rem;color:var(--soft)}
`.replaceAll("\n", "");
