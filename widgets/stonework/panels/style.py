"""How panels look: the style sheet that each of them carries."""

STYLE = """<style>
.stonework-panel { max-width: 1500px; padding: 0.4rem 0 1rem; }
.stonework-panel .stonework-controls { flex-flow: row wrap; gap: 0.3rem 0.8rem; align-items: flex-end; }
.stonework-panel .stonework-controls .widget-inline-hbox { flex: 0 1 auto; width: auto; min-width: 8.4rem;
  max-width: 100%; flex-flow: column; height: auto; margin: 0; }
.stonework-panel .stonework-controls .widget-label { text-align: left; width: auto; font-weight: 600; height: auto;
  line-height: 1.25; margin-bottom: 0.1rem; }
.stonework-panel .stonework-controls :is(input, select) { flex: 0 0 auto; width: 100%; min-width: 0; font-size: 1rem;
  height: 2rem; }
.stonework-panel .stonework-controls input { width: 8.4rem; }
.stonework-panel .stonework-controls select { width: max-content; min-width: 100%; max-width: 100%; }
.stonework-panel .stonework-controls .widget-checkbox { width: auto; min-width: 0; align-self: center; }
.stonework-panel .stonework-controls .widget-checkbox input { width: 1.2rem; height: 1.2rem; margin: 0 0.5rem 0 0; }
.stonework-panel .stonework-controls .widget-checkbox .widget-label-basic { font-size: 1rem; align-items: center; }
.stonework-panel .stonework-buttons { gap: 0.3rem 0.4rem; align-items: center; margin-top: 0.4rem; }
.stonework-panel .stonework-buttons input { font-size: 1rem; height: 2.1rem; width: 5rem; }
.stonework-panel .stonework-keep { flex: 1 0 100%; gap: 0.4rem 0.6rem; align-items: center; }
.stonework-panel .stonework-buttons select { font-size: 1rem; height: 2.1rem; }
.stonework-panel .stonework-buttons input[type="text"] { width: 14rem; }
.stonework-panel .stonework-buttons .widget-inline-hbox { width: auto; height: auto; align-items: center; }
.stonework-panel .stonework-buttons .widget-label { font-weight: 600; }
.stonework-panel button { font-size: 1rem; height: 2.1rem; width: auto; min-width: 4rem; }
.stonework-panel :is(input, select, textarea) { border-color: var(--jp-ui-font-color2, #6b746f) !important; }
.stonework-panel :is(input, select, textarea, button, summary, a):focus-visible { outline: 3px solid #0b57a4 !important;
  outline-offset: 1px; box-shadow: 0 0 0 6px #fff !important; position: relative; z-index: 1; }
.stonework-panel .stonework-stage { flex-flow: row wrap; gap: 0.6rem 1.2rem; align-items: flex-start;
  overflow: visible; }
.stonework-panel .stonework-seen { flex: 3 1 32rem; min-width: min(32rem, 100%); overflow: visible; }
.stonework-panel .stonework-beside { flex: 2 1 23rem; min-width: 0; overflow: visible; }
.stonework-panel .stonework-facts { min-width: 0; flex: 0 0 auto; }
@media (min-width: 1000px) {
  .stonework-panel .stonework-seen { position: sticky; top: 0.4rem; }
  .jp-Notebook :is(.jp-OutputArea-child, .jp-OutputArea-output, .jp-OutputArea, .jp-Cell-outputWrapper,
    .jp-Cell):has(.stonework-panel) { overflow: visible; }
}
.stonework-panel .widget-html, .stonework-panel .widget-html-content { height: auto; line-height: 1.45; }
.stonework-panel .widget-html-content { font-size: 1rem; white-space: normal; }
.stonework-plan { width: 100%; height: auto; max-height: max(24rem, 76vh); display: block; background: #fff; }
.stonework-panel :is(.stonework-cabinet, .stonework-plot) .stonework-plan, .stonework-cabinet .stonework-plan {
  max-height: none; }
.stonework-touched { display: none; }
.stonework-touches { display: none; }
.stonework-place { cursor: pointer; }
.stonework-place:hover { stroke: #0b57a4; stroke-width: 2; }
.stonework-place:focus-visible { outline: none; stroke: #0b57a4; stroke-width: 4; }
.stonework-again :is(.stonework-facts, .stonework-buttons:has(.stonework-own)) {
  display: none; }
.stonework-stations { gap: 0.25rem; }
.stonework-panel .stonework-stations button { min-width: 0; padding: 0 0.55rem; margin: 0; border-radius: 0;
  font-size: 0.95rem; font-weight: 600; background: #e9ecea; color: #22282c; border-bottom: 4px solid #9aa5a0; }
.stonework-panel .stonework-stations button.stonework-here { background: #22282c; color: #fff;
  border-bottom-color: #d8ae74; }
.stonework-bench > .stonework-buttons { margin-top: 0.3rem; }
.stonework-bench > .stonework-line .widget-html-content { display: flex; flex-flow: row wrap; gap: 0 1rem;
  align-items: center; }
.stonework-bench > .stonework-line :is(.stonework-status, .stonework-foot) { margin: 0.2rem 0; }
.stonework-bench > .stonework-line .stonework-status { font-size: 1rem; padding: 0.25rem 0.7rem; flex: 1 1 34rem;
  line-height: 1.3; }
.stonework-bench > .stonework-body > .widget-radio { margin: 0; width: auto; height: auto; }
.stonework-bench > .stonework-body > .widget-radio label { font-size: 1rem; margin-right: 1rem; align-items: center; }
.stonework-bench .stonework-plan { max-height: max(16rem, calc(100vh - 17.5rem)); }
.stonework-body > .stonework-panel { padding-top: 0; max-width: none; }
.stonework-fold { margin-top: 0.4rem; }
.stonework-adding input { width: 9.5rem; }
.stonework-stale .stonework-plan { filter: grayscale(1) contrast(0.6) brightness(1.25); }
.stonework-panel a { color: var(--jp-content-link-color, #0b57a4); text-decoration: underline; font-weight: 600; }
.jp-RenderedMarkdown details { margin-bottom: 0.9em; }
.jp-Notebook .jp-Cell.jp-mod-selected { background: transparent; }
.stonework-status { margin: 0.4rem 0; padding: 0.55rem 0.8rem; border-left: 6px solid #2f6f5e; background: #eef5f2;
  color: #14211d; font-size: 1.05rem; }
.stonework-status.stonework-refused { border-left-color: #8a3b12; background: #fbf1ea; color: #2c1407; }
.stonework-status.stonework-right { border-left-color: #1d5c8f; background: #eaf2f9; color: #0c2338; }
.stonework-status.stonework-old { border-left-style: dashed; filter: grayscale(1); }
.stonework-question { border: 1px solid #c9cfcc; border-top: 5px solid #2f6f5e; padding: 0.4rem 1rem 0.8rem; }
.stonework-task { font-size: 1.1rem; max-width: 46rem; margin: 0.3rem 0; }
.stonework-task strong { display: block; font-size: 1.15rem; margin-bottom: 0.2rem; }
.stonework-more { max-width: 46rem; }
.stonework-more p { margin: 0.4rem 0; }
.stonework-steps { padding-left: 2rem; }
.stonework-foot { opacity: 0.85; font-size: 0.9rem; margin: 0.3rem 0 0; }
.stonework-whose { align-self: flex-end; }
.stonework-panel .stonework-panel .stonework-whose { display: none; }
.stonework-findings { padding-left: 1.2rem; margin: 0.3rem 0; }
.stonework-findings li { margin: 0.25rem 0; }
.stonework-facts details { margin: 0.4rem 0; }
.stonework-facts summary { font-weight: 600; cursor: pointer; padding: 0.15rem 0; }
.stonework-table { border-collapse: collapse; font-size: 0.95rem; }
.stonework-table caption { text-align: left; padding-bottom: 0.3rem; }
.stonework-wide { overflow-x: auto; }
.stonework-wide table { margin-bottom: 0.8rem; }
.stonework-table th, .stonework-table td { border-bottom: 1px solid #c9cfcc; padding: 0.15rem 0.6rem 0.15rem 0;
  text-align: left; }
.stonework-ticket { border: 2px solid #39414a; border-left-width: 12px; background: #fdfcf8; color: #1b1b1b;
  max-width: 52rem; }
.stonework-ticket caption { font-size: 1.05rem; max-width: 52rem; padding: 0.2rem 0 0.5rem; }
.stonework-ticket th, .stonework-ticket td { padding: 0.25rem 0.9rem 0.25rem 0.7rem; vertical-align: top; }
.stonework-ticket tbody th { white-space: nowrap; }
@media (forced-colors: active) {
  .stonework-panel button { border: 1px solid ButtonText !important; }
  .stonework-panel button:disabled { border-color: GrayText !important; }
  .stonework-panel button.stonework-here { border: 3px solid Highlight !important; }
  .stonework-status.stonework-refused { border-left-style: double; }
  .stonework-status.stonework-right { border: 2px solid CanvasText; border-left-width: 6px; }
  .stonework-status.stonework-old { border-left-style: dashed; }
  .stonework-place:is(:hover, :focus-visible) { stroke: Highlight; }
}
@media (prefers-reduced-motion: reduce) {
  .stonework-panel, .stonework-panel * { transition: none !important; animation: none !important; }
}
@media print { .stonework-controls, .stonework-buttons { display: none; } }
</style>"""
