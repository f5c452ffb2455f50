// The polyfill of preloading is the one thing that would ask for a document.
export default { build: { modulePreload: false }, logLevel: 'warn' }
