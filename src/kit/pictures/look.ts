/** Font family of every picture; its file comes with the dejavu-fonts-ttf package. */
export const FONT = 'DejaVu Sans';
export const INK = '#2c211a';
export const PALE = '#eadfd3';
