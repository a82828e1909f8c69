#pragma once

namespace frisket {

/// Makes libvips able to open PDF: its loader is a plug-in, which is not loaded before a PDF is asked for.
/// Throws Error where it is not installed.
void load_pdf_plug_in();

}  // namespace frisket
