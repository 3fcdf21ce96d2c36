"""The readiness check before the first day in the shop: safety and reading, no sums. The shop's own rules decide."""

from latheworks.course import slips
from latheworks.course.tasks import Choice, Number, Several, Slip
from latheworks.course.variant import Variant
from latheworks.threads import thread
from latheworks.units import Q_, show

_RULES = "Where your shop has another rule, the shop's rule counts."


def _turned(numbers: Variant, options: tuple[str, ...]) -> tuple[str, ...]:
    """The options turned round, so that the place in the list tells nothing."""
    first = numbers.pick("turn", range(len(options)))
    return (*options[first:], *options[:first])


def _one(
    numbers: Variant, question: str, right: str, others: dict[str, tuple[str, str]], hint: str, why: str
) -> Choice:
    """A choice whose wrong options each have a name, a text and a sentence."""
    return Choice(
        question=question, options=_turned(numbers, (right, *(text for text, _ in others.values()))), right=right,
        hint=hint, worked=f"{why} {_RULES}",
        slips=tuple(Slip(name, text, why_not) for name, (text, why_not) in others.items()),
    )  # fmt: skip


def chuck_key(numbers: Variant) -> Choice:
    """Where the chuck key is."""
    pauses = (
        "a friend asks you something", "the part has to be set a little deeper", "the instructor calls you over",
        "the micrometer lies on the bench behind you",
    )  # fmt: skip
    pause = numbers.pick("pause", pauses)
    return _one(
        numbers,
        f"You are tightening the jaws, and {pause}. Where is the chuck key in the meantime?",
        "out of the chuck, before my hand leaves it",
        {"key left in": ("in the chuck: the spindle is switched off",
                         "Spindles are started by mistake, and by others. Look again."),
         "key left in for a moment": ("in the chuck, if I am back at once",
                                      "It is always left there for just a moment, and that is when it flies."),
         "key above the chuck": ("on the headstock, over the chuck",
                                 "From there it falls onto the chuck. It has a place of its own.")},
        "What happens to the key when the spindle starts?",
        "The key comes out before the hand leaves it: a key in a chuck that starts is thrown across the shop.",
    )  # fmt: skip


def what_you_wear(numbers: Variant) -> Several:
    """What is put away, tied back, or worn, before the spindle turns."""
    loose = (
        "gloves against the sharp chips", "a scarf round the neck, tucked in", "a ring that does not come off",
        "earbuds, to hear less of the noise",
    )  # fmt: skip
    sound = (
        "eye protection", "long hair tied back, under a cap or a net", "sleeves tight or rolled up", "closed shoes",
    )  # fmt: skip
    wrong, right = numbers.several("loose", loose, 2), numbers.several("good", sound, 3)
    why = {
        "eye protection": "Chips fly, also from the lathe beside yours.",
        "long hair tied back, under a cap or a net": "Hair is wound up in less time than it takes to shout.",
        "sleeves tight or rolled up": "Think of what a turning bar does to loose cloth.",
        "closed shoes": "Chips are hot, and parts are dropped.",
        "gloves against the sharp chips": "A glove that is caught takes the hand along. Chips are hooked, not held.",
        "a scarf round the neck, tucked in": "Tucked in is not off: what can come loose, does. What you always "
        "wear, settle with the instructor first.",
        "a ring that does not come off": "It happens. Tell the instructor before you come near the lathe.",
        "earbuds, to hear less of the noise": "You must hear the cut, and the person who calls you to stop.",
    }
    options = _turned(numbers, (*right[:2], *wrong, *right[2:]))
    return Several(
        question="You are to stand at a lathe that turns. Which of these belong on you? Tick all that do.",
        options=options, right=tuple(text for text in options if text in right),
        slips=tuple(Slip(f"about {text.split(',')[0]}", text, why[text]) for text in options),
        hint="Ask of each: can the turning work catch it? Does it keep a chip out of your eye, or your ear open?",
        worked=f"{'; '.join(right)}. {_RULES}",
    )  # fmt: skip


def chips(numbers: Variant) -> Choice:
    """How chips are taken away."""
    where = numbers.pick("where", ("round the tool", "round the chuck", "into the bore", "over the carriage"))
    return _one(
        numbers,
        f"A long chip has wound itself {where}. What do you do?",
        "stop the spindle, wait until it stands still, and take it with a hook or a brush",
        {"chip by hand": ("pull it away quickly, with gloves on",
                          "A chip cuts like a knife, and a glove is caught by it."),
         "chip blown off": ("blow it off with the air gun",
                            "Air throws chips into eyes, yours and others', and into the slides."),
         "chip left": ("leave it, and slow the spindle down", "It winds on, and tears the part or the tool loose.")},
        "Two questions: does anything still turn, and what touches the chip?",
        "Stop first; then a hook or a brush. A chip that keeps winding means another feed, depth or tool: ask.",
    )  # fmt: skip


def when_to_measure(numbers: Variant) -> Choice:
    """The spindle while one measures."""
    tool = numbers.pick("tool", ("a micrometer", "a caliper", "a thread gage", "a bore gage"))
    return _one(
        numbers,
        f"You want to measure the work with {tool}. How does the lathe stand?",
        "spindle stopped and in neutral or switched off, the tool drawn well back",
        {"measured while turning": ("spindle slow, so that the work is measured all round",
                                    "Work that turns takes the gage along, and the fingers."),
         "tool left close": ("spindle stopped, the tool left at the cut to save time",
                             "A hand that slips goes onto the edge: draw it back."),
         "measured while running out": ("spindle running out, since it will stop in a moment",
                                        "Wait until it stands: running out is still turning.")},
        "Nothing may turn, and nothing sharp may be near the hand.",
        "Nothing turns, nothing can start, and the edge is out of the hand's way.",
    )  # fmt: skip


def something_is_wrong(numbers: Variant) -> Choice:
    """What comes first when something goes wrong."""
    signs = (
        "The part begins to shake in the jaws.", "There is a smell of burning from the motor.",
        "The cut squeals, and the chips turn dark.", "Somebody near you cries out.",
    )  # fmt: skip
    sign = numbers.pick("sign", signs)
    return _one(
        numbers,
        f"{sign} What do you do first?",
        "stop the spindle with the stop I looked for before I began, and then call the instructor",
        {"called before the stop": ("call the instructor, and let it run so that it can be seen",
                                    "While it runs it gets worse. Stop it first."),
         "chuck opened first": ("open the chuck at once", "A chuck is opened when it stands, never before."),
         "watched before the stop": ("lower the feed and watch", "Watching comes after stopping.")},
        "Which of these can be done in one second, and takes the danger away?",
        "First the stop: know where it is before you start. Then call; then think.",
    )  # fmt: skip


def before_the_start(numbers: Variant) -> Several:
    """What is looked at before the spindle is switched on."""
    looks = (
        "the chuck key is in its place", "the chuck was turned round by hand, and all of it clears",
        "the tailstock and its quill are clamped, where they are used", "the speed is set for this work",
    )  # fmt: skip
    faults = (
        "the part was tried for play by hand as it turned slowly",
        "the guard is swung away, so that the cut can be seen",
        "a rag is wrapped round the sharp end of the work",
    )
    right, wrong = numbers.several("looks", looks, 3), numbers.pick("not", faults)
    why = {
        "the chuck key is in its place": "It is looked for before every start.",
        "the chuck was turned round by hand, and all of it clears": "Jaws, carriage and tool meet in the first turn, "
        "or not.",
        "the tailstock and its quill are clamped, where they are used": "A loose center lets the work go at speed.",
        "the speed is set for this work": "The last user may have left the fastest one.",
        "the part was tried for play by hand as it turned slowly": "Turning work catches a hand. Try it at rest.",
        "the guard is swung away, so that the cut can be seen": "The guard stays where it is, and you see through it.",
        "a rag is wrapped round the sharp end of the work": "Cloth and turning work do not go together.",
    }
    options = _turned(numbers, (right[0], wrong, *right[1:]))
    return Several(
        question="Before the spindle is switched on: which of these are as they should be? Tick all that are.",
        options=options, right=tuple(text for text in options if text in right),
        slips=tuple(Slip(f"about {' '.join(text.split()[:4])}", text, why[text]) for text in options),
        hint="What can fly, what can strike, what can catch?",
        worked=f"{'; '.join(right)}. {_RULES}",
    )  # fmt: skip


def may_you_start(numbers: Variant) -> Choice:
    """Who decides."""
    case = numbers.pick("case", (
        "The software finds nothing against your plan.", "You made the same part last week.",
        "A friend who is good at it says that it will be fine.", "You have done all the lessons.",
    ))  # fmt: skip
    return _one(
        numbers,
        f"{case} May you start the lathe?",
        "when the shop's rules allow it and the instructor has said so",
        {"numbers allow it": ("yes, if the numbers are right",
                              "Numbers know nothing of this chuck, this edge, this day."),
         "company allows it": ("yes, if somebody is within call",
                               "Somebody within call is needed too, and is not a permission."),
         "slowness allows it": ("yes, if I go slowly", "A slow chuck is as strong as a fast one.")},
        "Who answers for it, if it goes wrong?",
        "A plan advises. The shop's rules, the machine's manual and qualified staff decide.",
    )  # fmt: skip


def smallest_allowed(numbers: Variant) -> Number:
    """Reading limits from a drawing."""
    high, low = numbers.pick("limits", ((32.0, 31.9), (30.0, 29.93), (25.35, 25.07), (34.1, 33.9), (20.4, 19.9)))
    return Number(
        question=f"The drawing gives an outside diameter with its limits, {high:.2f} mm over {low:.2f} mm. What is the "
        "smallest that it may come out? Read it off, with the unit.",
        right=Q_(low, "mm"),
        within=Q_(0.001, "mm"),
        slips=(
            slips.other_limit(Q_(high, "mm")),
            Slip("tolerance for limit", Q_(round(high - low, 3), "mm"), "This is the width between the two limits."),
            Slip("middle for limit", Q_((high + low) / 2, "mm"), "This is the size to aim at; the question asks for "
                                                                 "an end."),
        ),
        hint="Two sizes stand there. The part may be either, or anything between.",
        worked=f"From {low:.2f} mm to {high:.2f} mm is good; below {low:.2f} mm it is scrap, since nobody puts metal "
               "back.",
    )  # fmt: skip


def threads_in_an_inch(numbers: Variant) -> Number:
    """Reading a thread's designation."""
    name = numbers.pick("thread", ("1-12 UNF-2B", "3/4-16 UNF-2A", "1/2-13 UNC-2A", "7/8-14 UNF-2B", "1-8 UNC-2A"))
    cut = thread(name)
    count = round(float((Q_(1, "inch") / cut.pitch).m_as("dimensionless")))
    return Number(
        question=f"The drawing says {name}. How many threads are there in an inch? Read it off, as a plain number.",
        right=Q_(float(count), "dimensionless"),
        within=Q_(0.1, "dimensionless"),
        kind="count",
        slips=(Slip("class for threads", Q_(2.0, "dimensionless"), "The 2 belongs to the class, how closely it fits."),
               Slip("size for threads", Q_(float(cut.major.m_as("inch")), "dimensionless"),
                    "That is the size across, in inches.")),
        hint="Size, a dash, threads per inch, series, a dash, class.",
        worked=f"{name}: {show(cut.major, 'inch')} across, {count} threads in an inch, and "
        f"{'an inside' if name.endswith('B') else 'an outside'} thread by its class.",
    )  # fmt: skip


EXERCISES = (chuck_key, what_you_wear, before_the_start, chips, when_to_measure, something_is_wrong, may_you_start,
             smallest_allowed, threads_in_an_inch)  # fmt: skip
