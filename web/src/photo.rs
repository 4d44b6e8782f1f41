//! A photo of a line: made small, kept on this phone only, never in the file or the link.

use crate::cars::chosen;
use crate::el::{El, button, div, el, live, note, section};
use crate::keep::Keeper;
use crate::store;
use crate::store::record::Hand;
use crate::words;
use js_sys::Promise;
use leptos::prelude::*;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, CanvasRenderingContext2d, Event, HtmlCanvasElement, ImageBitmap, Url};

/// The longer side of a kept photo, px, and how well it is packed (our choice: numbers on a hose can be read, and a phone
/// keeps hundreds).
const LONGEST: f64 = 1280.0;
const QUALITY: f64 = 0.8;

/// The photo of a line, and the ways to take one and to take it away.
pub(crate) fn photo(keeper: Keeper, name_at: String) -> El {
    // The address under which the page shows it, which ends with it.
    let shown = RwSignal::new(None::<String>);
    let wrong = RwSignal::new(None::<String>);
    let forget = move || shown.try_update_untracked(Option::take).flatten().map(|url| Url::revoke_object_url(&url));
    on_cleanup(move || drop(forget()));
    let name_at = StoredValue::new(name_at);
    let line = move |hand: Option<Hand>| {
        let name = keeper.draft.with_untracked(|draft| name_at.with_value(|at| draft.said(at).to_owned()));
        Some((hand?.id, name)).filter(|(_, name)| !name.is_empty())
    };
    let show = move |photo: Option<Blob>| {
        drop(forget());
        shown.try_set(photo.and_then(|photo| Url::create_object_url_with_blob(&photo).ok()));
    };
    if let Some((id, name)) = line(keeper.hand()) {
        spawn_local(async move {
            match store::photo(&id, &name).await {
                Ok(photo) => show(photo),
                Err(fault) => keeper.fail(fault),
            }
        });
    }
    // `None` takes it away.
    let set = move |photo: Option<Blob>| {
        let Some((id, name)) = line(keeper.keep_at_all()) else {
            wrong.set(Some(words::NAME_LINE_FIRST.to_owned()));
            return;
        };
        spawn_local(async move {
            match store::set_photo(&id, &name, photo.as_ref()).await {
                Ok(()) => show(photo),
                Err(fault) => keeper.fail(fault),
            }
        });
    };
    let take = move |event: &Event| {
        let Some(file) = chosen(event) else { return };
        wrong.set(None);
        spawn_local(async move {
            match small(&file).await {
                Ok(photo) => set(Some(photo)),
                Err(_) => wrong.set(Some(words::NO_PHOTO.to_owned())),
            }
        });
    };
    // Asked for its camera, a phone offers nothing else.
    let inputs = [("line-photo", words::TAKE_PHOTO, true), ("line-picture", words::CHOOSE_PHOTO, false)].map(
        |(id, label, is_camera)| {
            let input = el("input").attrs([("id", id), ("type", "file"), ("accept", "image/*")]).on("change", take);
            let input = if is_camera { input.attr("capture", "environment") } else { input };
            div("field").put(el("label").attr("for", id).put(label)).put(input)
        },
    );
    let picture = move || {
        shown.with(|shown| {
            let url = shown.as_ref()?;
            let image = el("img").class("photo").attr("src", url.clone()).attr("alt", words::PHOTO_ALT);
            Some(div("").put(image).put(button("bt", words::TAKE_AWAY, move || set(None))))
        })
    };
    section(words::PHOTO)
        .put(live(picture))
        .put_all(inputs)
        .put(note(words::PHOTO_HOW))
        .put(el("div").class("err").attr("role", "status").put(live(move || wrong.get().map(|why| el("p").put(why)))))
}

/// The same picture, no longer than it is to be, without what else the file says.
async fn small(file: &Blob) -> Result<Blob, JsValue> {
    let image: ImageBitmap = JsFuture::from(window().create_image_bitmap_with_blob(file)?).await?.unchecked_into();
    let (width, height) = (f64::from(image.width()), f64::from(image.height()));
    let scale = (LONGEST / width.max(height)).min(1.0);
    let canvas: HtmlCanvasElement = document().create_element("canvas")?.unchecked_into();
    let (width, height) = (width * scale, height * scale);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 1 to 1280")]
    let size = (width.round().max(1.0) as u32, height.round().max(1.0) as u32);
    canvas.set_width(size.0);
    canvas.set_height(size.1);
    let context: CanvasRenderingContext2d = canvas.get_context("2d")?.ok_or(JsValue::NULL)?.unchecked_into();
    context.draw_image_with_image_bitmap_and_dw_and_dh(&image, 0.0, 0.0, size.0.into(), size.1.into())?;
    image.close();
    let packed = Promise::new(&mut |done, _| {
        canvas.to_blob_with_type_and_encoder_options(&done, "image/jpeg", &QUALITY.into()).ok();
    });
    JsFuture::from(packed).await?.dyn_into()
}
