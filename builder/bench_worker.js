// Why this file exists: one start of the engine, timed inside a worker as on the phone:
// `ours`, the `stock` runtime alone, or the stock runtime with the same engine from sources.
const starts = {
  ours: async () => (await import('/worker/runtime.js')).startEngine(() => {}),
  stock: startStock,
  'stock with engine': async (wheels) => {
    const [python, batch] = await Promise.all([startStock(), startGeos()]);
    await python.loadPackage(wheels, { messageCallback: () => {} });
    python.pyimport('engine.entry').start(batch);
  },
};

async function startStock() {
  const { loadPyodide } = await import('/stock/pyodide.mjs');
  return loadPyodide({ indexURL: new URL('/stock/', location.href).href, stdout: () => {} });
}

async function startGeos() {
  const { startGeos: start, forPython } = await import('/worker/geos_kernel.js');
  return forPython(await start((await import('/vendor/geos-wasm/geos.esm.js')).default));
}

addEventListener('message', async ({ data: { kind, wheels } }) => {
  const begun = performance.now();
  try {
    await starts[kind](wheels);
    postMessage({ milliseconds: performance.now() - begun });
  } catch (fault) {
    postMessage({ fault: String(fault.stack ?? fault) });
  }
});
