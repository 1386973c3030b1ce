//! Content, templates and layout make PDF bytes; the only room that knows typst.

mod clean_text;
pub mod content;
mod fonts;
mod html_pages;
mod look;
mod page_world;
mod pdf;
mod pdf_stamp;
pub mod plot;
mod printed;
mod render_fault;
mod renderer;
pub mod samples;
mod seal_root;
pub mod sheets;
mod template_set;
mod typst_literal;

pub use fonts::{FontLicence, font_licences};
pub use html_pages::HtmlPages;
pub use look::{Language, Look};
pub use pdf_stamp::PdfStamp;
pub use printed::Printed;
pub use render_fault::{MissingCharacter, RenderFault};
pub use renderer::Renderer;
pub use seal_root::SealRoot;
pub use sheets::{Audience, Sheet};
pub use template_set::{TemplateSet, shipped_templates};
