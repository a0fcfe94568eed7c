"""The keys of the job file, as it is written. `job.py` makes the model of it.

The sections with entries (`stock`, `parts`, `joints` and the like) are forms of their own, read one by one, so that one
bad entry does not hide what is wrong with the others. Lengths become mm while they are read, through the `Reading` given as
context. Faces and pieces stay text where the piece they belong to has to be known first. Descriptions go into the JSON
Schema.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, GetCoreSchemaHandler, RootModel
from pydantic.annotated_handlers import GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from sequencer.model.fields import ONE_OR_MORE, Answer, Distance, Face, Length, Offset, Plain, Written
from sequencer.model.frame import FaceName
from sequencer.model.job import MADE, Aim, Fit, Fixing, Hardness, HardwareKind, Surface
from sequencer.model.job import Form as StockShape
from sequencer.reading.forms import Count, Form, Format, Name, Pairs, Texts, Words

Fixings = Annotated[tuple[Fixing, ...], Field(min_length=1), ONE_OR_MORE]
Share = Annotated[Plain, Field(gt=0, lt=1)]
Typed = Written


class StockForm(Form):
    """What is bought."""

    material: Words = Field(description="the timber or sheet, by its usual name")
    form: StockShape = Field("board", description="what shape it is sold in")
    width: Length | None = Field(None, description="width as bought; a square stick needs none")
    thickness: Length | None = Field(None, description="thickness as bought")
    diameter: Length | None = Field(None, description="diameter of a round stick")
    lengths: Annotated[tuple[Length, ...], ONE_OR_MORE] = Field((), description="lengths it is sold in")
    sheet: tuple[Length, Length] | None = Field(None, description="a sheet's long and short side")
    surface: Surface = Field("planed", description="planed: true and to size; sawn: faces and edges must be made")
    sawn_as: Literal["flat", "quarter", "unknown"] = Field("unknown", description="how the board was cut from the log")
    hardness: Hardness | None = Field(None, description="softwood, hardwood or sheet; a sheet is one without saying")
    botanical: str = Field("", description="botanical name")


class MarksForm(Form):
    """The two true faces everything is measured from."""

    face_side: Face = Field(default="inside", description="the broad face that is made true first")
    face_edge: Face = Field(default="bottom", description="the edge that is made square to it")


class AllowanceForm(Form):
    """Waste left on a face until a named moment."""

    amount: Length = Field(description="how much is left on")
    until: Words = Field(description="the joint or assembly after which it comes off")


class TogetherForm(Form):
    """Parts worked together with this one."""

    with_: Texts = Field(alias="with", description="the other parts")
    until: str = Field("", description="the feature, joint or assembly after which they are worked apart")


class PartForm(Form):
    """One kind of part."""

    count: Count = Field(1, description="how many of it one finished thing has")
    handed: bool = Field(False, description="half as drawn (left), half mirrored left to right (right)")
    stock: Words = Field(description="the stock it is made from")
    length: Length = Field(description="finished length")
    width: Length | None = Field(None, description="finished width; the stock's if left out")
    thickness: Length | None = Field(None, description="finished thickness; the stock's if left out")
    diameter: Length | None = Field(None, description="finished diameter of a round part")
    grain: Literal["length", "width", "thickness"] = Field("length", description="the way the grain runs")
    section: Literal["rectangular", "round"] | None = Field(None, description="round for round stock, else rectangular")
    names: dict[Name, FaceName] = Field(default_factory=dict, description="the part's own names for faces")
    marks: MarksForm = Field(MarksForm(), description="its face side and face edge")
    features: dict[Name, Any] = Field(default_factory=dict, description="grooves, holes, curves … by name")
    allowance: dict[Face, AllowanceForm] = Field(default_factory=dict, description="waste left on, by face")
    together: TogetherForm | None = Field(None, description="parts it is worked together with")
    note: str = Field("", description="words for the card")


class VariantForm(Form):
    """A part like another but for something."""

    based_on: Words = Field(description="the part it is like")
    change: dict[str, Any] = Field(default_factory=dict, description="keys of the part that are different")
    without: Texts = Field((), description="features of the other part it has not")
    note: str = Field("", description="words for the card")


class JointForm(Form):
    """How one piece meets another."""

    part: Words = Field(description="the piece that enters")
    its: Words = Field(description="the face of it that bears, or one of its features such as a tenon")
    into: str = Field("", description="piece/feature it goes into")
    to: str = Field("", description="piece/face it goes against")
    fixed: Fixings = Field(description="what holds it")
    fit: Fit | None = Field(None, description="how closely it fits")
    play: Distance | None = Field(None, description="room left in the fit; the usual of its fit if left out")
    flush: Pairs = Field((), description="faces of both that lie in one plane")
    align: Pairs = Field((), description="faces of both that look the same way")
    at: dict[str, Offset] = Field(default_factory=dict, description="distances from faces of the other piece")
    enters: Literal["left", "right", "up", "down", "forward", "back", ""] = Field("", description="the way it moves home")
    after: Texts = Field((), description="joints made before it")
    assembly: str = Field("", description="the sub-assembly it belongs to")
    hardware: str = Field("", description="the hardware that holds it")


class CrossingAtForm(Form):
    """Where the halvings are."""

    under: Distance | None = Field(default=None, description="from the left end of the piece under; centred if left out")
    over: Distance | None = Field(default=None, description="from the left end of the piece over; centred if left out")


class CrossingForm(Form):
    """Two pieces halved where they cross: makes a halving on both parts, and the joint."""

    under: Words = Field(description="the piece underneath")
    over: Words = Field(description="the piece on top")
    lap: Literal["flat", "edge"] = Field("flat", description="flat: halved in the broad faces; edge: in the edges")
    at: CrossingAtForm = Field(CrossingAtForm(), description="near side of each halving from its left end")
    share: Share = Field(0.5, description="share of the common size that is cut out of the piece under")
    fixed: Fixings = Field(description="what holds it")
    fit: Fit = Field("lapped", description="how closely it fits")
    play: Distance | None = Field(None, description="room left in the fit; the usual of its fit if left out")
    after: Texts = Field((), description="joints made before it")
    assembly: str = Field("", description="the sub-assembly it belongs to")


class HardwareForm(Form):
    """A bought-in thing."""

    what: Words = Field(description="what it is")
    kind: HardwareKind = Field("other", description="what sort it is, for the way it is fixed")
    count: Count = Field(1, description="how many one finished thing has")
    gauge: Annotated[int, Field(ge=0, le=32)] | None = Field(None, description="gauge number of a wood screw")
    length: Length | None = Field(None, description="its length")
    diameter: Length | None = Field(None, description="its diameter")
    note: str = Field("", description="words for the card")
    fixed_to: Texts = Field((), description="the parts or pieces it is fixed to")
    on: str = Field("", description="the face of the first of these that it goes on")


class OverallForm(Form):
    """An outside measure of the finished thing, checked against the sum of its parts."""

    from_: Words = Field(alias="from", description="piece/face it is measured from")
    to: Words = Field(description="piece/face it is measured to")
    is_: Length = Field(alias="is", description="what it must come to")


class FinishForm(Form):
    """A finish and where it goes."""

    what: Words = Field(description="the finish, by the knowledge's name")
    coats: Annotated[int, Field(ge=1, le=20)] = Field(1, description="how many coats")
    parts: Texts = Field((), description="the parts it goes on; all if left out")
    before_glue: bool = Field(False, description="put on before the parts are glued")


class FinishesForm(RootModel[Annotated[tuple[FinishForm, ...], ONE_OR_MORE]]):
    """The finish, or several."""


class AssembliesForm(RootModel[dict[Name, Texts]]):
    """Sub-assemblies and their joints."""


class ChoiceForm(Form):
    """A size each student may choose."""

    from_: Length | None = Field(None, alias="from", description="the least")
    to: Length | None = Field(None, description="the most")
    options: Annotated[tuple[Length, ...], ONE_OR_MORE] = Field((), description="the sizes to choose from")
    note: str = Field("", description="words for the card")


class DecisionForm(Form):
    """What the teacher has settled."""

    about: Words = Field(description="part/feature, joint, hardware or task it is about")
    by: Answer = Field(description="the role of the person who decides, never a name")
    why: Answer = Field(description="the reason, printed with the risk assessment")
    way: str = Field("", description="the operation to use")
    station: str = Field("", description="the station to use")
    before: str = Field("", description="the task it comes before")
    minutes: Annotated[Plain, Field(gt=0)] | None = Field(None, description="the time it takes")


class DecisionsForm(RootModel[tuple[DecisionForm, ...]]):
    """What the teacher has settled."""


class ExtensionForm(Form):
    """A task for whoever waits or has finished."""

    task: Words = Field(description="what is done, in short sentences")
    stations: Texts = Field((), description="the kinds of station it is done at, which must have been shown; none: at a desk")
    after: str = Field("", description="what a student must have made before: a part, feature, joint, assembly; made: all of it")
    lay_out: Texts = Field((), description="what staff lay out for it")
    minutes: Annotated[Plain, Field(gt=0)] | None = Field(None, description="how long it lasts about")


class _OrText:
    """Takes a bare text as a task for those who have made all of it."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def whole(value: Any) -> Any:
            return {"task": value, "after": MADE} if isinstance(value, str) else value

        return core_schema.no_info_before_validator_function(whole, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"anyOf": [{"type": "string", "minLength": 1}, handler(schema)]}


class ExtensionsForm(RootModel[Annotated[tuple[Annotated[ExtensionForm, _OrText()], ...], ONE_OR_MORE]]):
    """The tasks for whoever waits or has finished."""


class JobForm(Form):
    """One drawn project."""

    format: Format = Field("1", description="version of this file format")
    job: Words = Field(description="its title")
    units: Literal["mm", "in"] = Field("mm", description="what plain numbers are: millimetres or inches")
    source: str = Field("", description="where the design was published")
    note: str = Field("", description="words for whoever uses the plan, at the head of the job card too")
    before_use: str = Field("", description="what comes before the finished thing is used, at the end of the job card")
    learning_aim: str = Field("", description="what the class is to learn by it")
    extension: Any = Field((), description="tasks for those who wait or finish early")
    outdoors: bool = Field(False, description="it will stand in the weather")
    rough_inside: bool = Field(False, description="its inside faces stay as they come, neither planed smooth nor sanded")
    aim: Aim = Field("most-by-students", description="what decides between ways that are all possible")
    moisture_change: Annotated[Plain, Field(ge=0, le=30)] = Field(4.0, description="swing of the wood's moisture, points")
    sizes: dict[Name, Typed] = Field(default_factory=dict, description="named lengths and sums of them")
    stock: dict[Name, Any] = Field(min_length=1, description="what is bought, by name")
    parts: dict[Name, Any] = Field(min_length=1, description="the parts, by name")
    joints: dict[Name, Any] = Field(default_factory=dict, description="how the pieces meet, by name")
    crossings: dict[Name, Any] = Field(default_factory=dict, description="pieces halved where they cross, by name")
    hardware: dict[Name, Any] = Field(default_factory=dict, description="bought-in things, by name")
    overall: dict[Name, Any] = Field(default_factory=dict, description="outside measures, by name")
    glue: str = Field("", description="the glue, by the knowledge's name")
    finish: Any = Field((), description="the finish, or several")
    choices: dict[Name, Any] = Field(default_factory=dict, description="sizes each student may choose")
    assemblies: Any = Field(default_factory=dict, description="sub-assemblies and their joints")
    decisions: Any = Field((), description="what the teacher has settled")
