/** The look of the service's own pages: the ink and paper of its pictures, in light and dark. */
export const PAGE_STYLE = `:root{color-scheme:light dark;--paper:#fbfaf6;--panel:#f1f1ea;--ink:#1f2c33;--faint:#54626a;--rule:#cbd4d5;--land:#3d5a4c;--sun:#a3550a}
@media (prefers-color-scheme:dark){:root{--paper:#11171a;--panel:#1a2429;--ink:#e7ebe8;--faint:#a3b1b5;--rule:#34424a;--land:#a9c9b5;--sun:#f2ab4b}}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:1.0625rem/1.6 system-ui,"Segoe UI",Roboto,"Noto Sans",sans-serif}
main{max-width:58rem;margin:0 auto;padding:2.5rem 1.25rem 5rem}
h1{font-size:clamp(1.8rem,5vw,2.6rem);line-height:1.15;margin:0 0 .75rem;letter-spacing:-.01em}
h2{font-size:1.35rem;line-height:1.25;margin:3rem 0 .5rem}
h3{font-size:1.1rem;line-height:1.3;margin:2rem 0 .5rem}
:target{scroll-margin-top:1rem;text-decoration:underline .15em var(--sun)}
p{margin:.6rem 0;max-width:44rem}
.lead{font-size:1.2rem}
.faint{color:var(--faint);font-size:.95rem}
a{color:var(--land)}
a:focus-visible,button:focus-visible,pre:focus-visible{outline:3px solid var(--sun);outline-offset:2px}
code,pre{font-family:ui-monospace,"Cascadia Mono",Menlo,Consolas,monospace;font-size:.9rem}
pre{background:var(--panel);border:1px solid var(--rule);border-radius:.4rem;padding:.9rem 1rem;overflow:auto;max-height:26rem;margin:.6rem 0;white-space:pre}
pre img{display:block;max-width:100%;height:auto}
figure{margin:1.25rem 0}
figure img{display:block;width:100%;height:auto;border:1px solid var(--rule);border-radius:.4rem}
figcaption{color:var(--faint);font-size:.95rem;margin-top:.4rem}
button{font:inherit;font-weight:600;color:var(--paper);background:var(--land);border:0;border-radius:.4rem;min-height:2.75rem;padding:0 1.1rem;cursor:pointer}
button[disabled]{opacity:.6;cursor:progress}
nav ul{list-style:none;display:flex;flex-wrap:wrap;gap:.4rem 1.4rem;padding:0;margin:1rem 0}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.3rem 1rem}
dt{font-weight:600}
dd{margin:0}
.fields{display:block}
.fields>div{display:grid;grid-template-columns:13rem 1fr;gap:.2rem 1rem;padding:.6rem 0;border-top:1px solid var(--rule)}
.fields dt,.fields dd{overflow-wrap:anywhere;min-width:0}
.fields p{margin:0}
@media (max-width:40rem){.fields>div{grid-template-columns:1fr}}
`;
