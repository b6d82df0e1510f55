// The browser knows no package names: the build puts this one module of @date-fns/tz in this file's place.
export { tzOffset } from '@date-fns/tz/tzOffset';
