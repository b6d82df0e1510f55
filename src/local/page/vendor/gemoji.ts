// The browser knows no package names: the build puts gemoji's own module in this file's place.
export { nameToEmoji } from 'gemoji';
