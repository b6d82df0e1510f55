// The browser knows no package names: the build puts preact's own module in this file's place.
export type { VNode } from 'preact';
export { Fragment, h, render } from 'preact';
