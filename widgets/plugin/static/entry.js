/* What JupyterLab loads. It expects what webpack's module federation leaves behind: under the package's name an
   object that is given JupyterLab's own modules and hands over the plug-in. Written by hand, it needs no build. */

(() => {
  let offered;

  const take = async (name) => {
    const versions = Object.values(offered[name]);
    const version = versions.find((one) => one.loaded) ?? versions[0];
    return (await version.get())();
  };

  window._JUPYTERLAB ??= {};
  window._JUPYTERLAB.stonework = {
    init: async (scope) => {
      offered = scope;
    },
    get: async () => {
      const [{ makePlugin }, application, notebook, widgets] = await Promise.all([
        import("./plugin.js"),
        take("@jupyterlab/application"),
        take("@jupyterlab/notebook"),
        take("@lumino/widgets"),
      ]);
      const plugin = makePlugin(application.ILabShell, notebook, widgets.Widget);
      return () => ({ __esModule: true, default: plugin });
    },
  };
})();
