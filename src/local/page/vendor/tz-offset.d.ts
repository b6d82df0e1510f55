// The build copies this one module of @date-fns/tz next to this file.
export { tzOffset } from '@date-fns/tz/tzOffset';
