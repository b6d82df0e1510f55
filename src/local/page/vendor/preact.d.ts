// The build copies preact's own module next to this file, so the browser loads it with no bundler.

export type { ComponentChildren, JSX, VNode } from 'preact';
export { Fragment, h, render } from 'preact';
