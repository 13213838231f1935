// Looks at every question once everything is told: whether it is stuck, and how far
// each wheel (in turns) and bar goes from the start to a later moment. The body of a
// function that `screen_motion.rs` runs on the page.
const angle = (svg, element) => {
    const frame = svg.getScreenCTM().inverse().multiply(element.getScreenCTM());
    const place = new DOMPoint(element.dataset.x, element.dataset.y).matrixTransform(frame);
    const [x, y] = [Number(element.dataset.roundX), Number(element.dataset.roundY)];
    return {
        turned: Math.atan2(frame.b, frame.a) / 2 / Math.PI,
        round: "round" in element.dataset
            ? Math.atan2(place.y - y, place.x - x) / 2 / Math.PI : null,
        right: frame.e,
    };
};
const measured = [];
for (const question of document.querySelectorAll(".question")) {
    for (const button of question.querySelectorAll(".show")) {
        button.click();
    }
    const drawing = question.querySelector(".drawing");
    const svg = question.querySelector(".stage:not([hidden]) svg");
    const found = {
        question: question.id,
        stuck: drawing ? "stuck" in drawing.dataset : null,
        kinds: [], wheels: [], bars: [],
    };
    if (svg && svg.dataset.speed) {
        const last = svg.dataset.forth ? 0.9 * svg.dataset.forth / svg.dataset.speed : 1;
        const look = (seconds) => {
            toothmark.clock.set(seconds);
            return [...svg.querySelectorAll("[data-part]")].map((it) => angle(svg, it));
        };
        const [before, after] = [look(0), look(Math.min(1, last))];
        svg.querySelectorAll("[data-part]").forEach((element, index) => {
            const [one, other] = [before[index], after[index]];
            const list = element.dataset.move === "wheel" ? found.wheels : found.bars;
            list.push({
                part: element.dataset.part,
                turned: other.turned - one.turned,
                round: one.round === null ? null : other.round - one.round,
                right: other.right - one.right,
            });
        });
    }
    found.kinds = svg
        ? [...svg.querySelectorAll("[data-move]")].map((it) => it.dataset.move) : [];
    measured.push(found);
    document.getElementById("next").click();
}
return measured;
