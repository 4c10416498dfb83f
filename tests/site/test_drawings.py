"""Every drawing of the demo can be read: no name lies on another, none is cut, and it is zoomed by hand."""

from __future__ import annotations

from pathlib import Path

LAPPED = """() => {
    const found = [];
    document.querySelectorAll("svg.ohm-sketch").forEach((sketch) => {
        const { width, height } = sketch.viewBox.baseVal;
        const boxes = [...sketch.querySelectorAll(".ohm-pin rect, text")].map((shape) => {
            const pin = shape.closest(".ohm-pin");
            const name = (pin ? pin.querySelector("text") : shape).textContent;
            return { pin, shape, name, box: shape.getBBox() };
        });
        boxes.forEach((one, i) => {
            const { x, y, width: w, height: h } = one.box;
            if (x < 0 || y < 0 || x + w > width || y + h > height) found.push(`${one.name} is cut`);
            if (one.shape.localName === "text" && one.pin) {
                const frame = one.pin.querySelector("rect").getBBox();
                if (w > frame.width - 2) found.push(`${one.name} is wider than its frame`);
                return;
            }
            boxes.slice(i + 1).forEach((other) => {
                if (other.pin && other.shape.localName === "text") return;
                const wide = Math.min(x + w, other.box.x + other.box.width) - Math.max(x, other.box.x);
                const high = Math.min(y + h, other.box.y + other.box.height) - Math.max(y, other.box.y);
                // A box of words is a line high: above and below its letters nothing is written.
                const least = one.pin && other.pin ? 0 : 3;
                if (wide > 0 && high > least) found.push(`${one.name} lies on ${other.name}`);
            });
        });
        const course = sketch.querySelector(".ohm-pin-leader")?.getAttribute("d") || "";
        course.split("M").slice(1).forEach((leader) => {
            const [x1, y1, x2, y2] = leader.split(/[L,]/).map(Number);
            const crossed = boxes.filter(({ pin, shape, box }) => pin && shape.localName === "rect"
                && [...Array(101).keys()].some((i) => {
                    const x = x1 + ((x2 - x1) * i) / 100;
                    const y = y1 + ((y2 - y1) * i) / 100;
                    return x > box.x && x < box.x + box.width && y > box.y && y < box.y + box.height;
                }));
            // It ends in the middle of its own name.
            if (crossed.length > 1) found.push(`a line runs through ${crossed.map(({ name }) => name).join(" and ")}`);
        });
    });
    return found;
}"""


def test_no_name_in_a_drawing_lies_on_another_or_is_cut(browser: object, site: Path) -> None:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    sketches, faults = 0, []
    for path in sorted((site / "drawings").glob("*.html")):
        page.goto(path.as_uri())
        sketches += page.locator("svg.ohm-sketch .ohm-pin").count()
        faults += [f"{path.stem}: {fault}" for fault in page.evaluate(LAPPED)]
    page.close()
    assert sketches > 150
    assert faults == []


def test_a_drawing_is_zoomed_by_two_fingers_from_a_folder(browser: object, site: Path) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    page.goto((site / "drawings" / "quellmark-board.html").as_uri())
    box = page.locator("svg.ohm-sketch").bounding_box()
    middle = {"x": box["x"] + box["width"] / 2, "y": box["y"] + box["height"] / 2}
    session = context.new_cdp_session(page)
    session.send("Input.synthesizePinchGesture", {**middle, "scaleFactor": 2.5})
    assert page.evaluate("visualViewport.scale") > 2
    context.close()
