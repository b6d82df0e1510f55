import { projectFile } from '../../runtime/project-file.js';

/** DejaVu Sans, which has every letter that names of coffees and people need; its licence lies beside it. */
export const FONT_FILES = {
  plain: projectFile('src', 'kit', 'fonts', 'DejaVuSans.ttf'),
  bold: projectFile('src', 'kit', 'fonts', 'DejaVuSans-Bold.ttf'),
};
