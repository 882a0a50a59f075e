import type { Font } from 'fontkit';

declare global {
  namespace PDFKit.Mixins {
    interface PDFFont {
      /** pdfkit takes a font that fontkit has opened too, which its types do not tell. */
      registerFont(name: string, font: Font): this;
    }
  }
}
