// Made by `python3 -m builder types` from the records of engine/wire; change it there.

/** ``now`` is the offset at the board read last, ``at`` its id, the larger way first. */
export interface AsLaidReply {
  reply: "as laid";
  at: string;
  now: (Figure)[];
  arrow: number;
  verdict: string;
  turn: Figure | null;
  creep: (CreepRow)[];
  ends: (WallEndRow)[];
  readings: (LaidReadingRow)[];
  read_to: Record<string, string>;
  proposals: (ProposalRow)[];
  held: (HeldRow)[];
  joints: Figure | null;
  take: Record<string, unknown> | null;
  taken: string;
  set_aside: string;
  spare: (HeldRow)[];
  formulas: Record<string, Formula>;
  findings: (Finding)[];
}

/** Is the floor still where it should be? From the job's readings on the laid floor. */
export interface AsLaidRequest {
  ask: "as laid";
  decimal?: "," | ".";
  job: Record<string, unknown>;
}

/** The best place, to be kept in the job's floor, and what it is worth beside the place as it is. */
export interface BestPlaceReply {
  reply: "best place";
  anchor: [number, number];
  axis: number;
  words: string;
  worth: Figure;
  bound: Figure;
  edges_now: (EdgeRow)[];
  edges: (EdgeRow)[];
  formulas: Record<string, Formula>;
  findings: (Finding)[];
}

/** Where does the pattern sit best? */
export interface BestPlaceRequest {
  ask: "best place";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  in_slices?: boolean;
}

/** The board as bought, laying measure (without tongue and click). */
export interface Board {
  length: number;
  width: number;
  thickness?: number | null;
}

/** One board that is sawn: its pieces in the order of cutting, and the offcuts left in words. */
export interface BoardDrawing {
  title: string;
  hand: "L" | "R";
  pieces: (string)[];
  spoiled: string;
  offcuts: (string)[];
  saw: SawDrawing;
}

/** One board face up: ``goes_in`` are its tongues, ``takes`` the grooves, ``heading`` an arrow. */
export interface BoardPicture {
  hand: "L" | "R";
  path: string;
  goes_in: string;
  takes: string;
  heading: string;
  label: Label;
}

/** Which way round: each hand of board beside the other, the start end nearest to who holds it. */
export interface BoardsInHand {
  view_box: [number, number, number, number];
  boards: (BoardPicture)[];
  words: (string)[];
}

/** All that is needed to cut and place one piece. Figures come in the order of their weight. */
export interface Card {
  id: string;
  title: string;
  hand: "L" | "R";
  kind: string;
  kind_text: string;
  wall: string;
  place_text: string;
  board_text: string;
  board: string;
  figures: (Figure)[];
  steps: (string)[];
  flags: (string)[];
  marks: (Mark)[];
  saws: (SawDrawing)[];
  near: [number, number, number, number];
  lies: BoardPicture;
  planned: (PlannedLength)[];
  neighbours: (CardNeighbour)[];
  laying: number;
  spoken: string;
  together: (string)[];
  glue_offer: string;
  cut: boolean;
  fitted: boolean;
}

/** A piece that lies against an edge of another, ``label`` its name where it lies. */
export interface CardNeighbour {
  id: string;
  words: string;
  path: string;
  label: Label;
}

/** ``read_only`` when the file comes from a newer version of the app. */
export interface CheckReply {
  reply: "check";
  findings: (Finding)[];
  read_only?: boolean;
}

/** Is this job sound? Answered with findings. */
export interface CheckRequest {
  ask: "check";
  decimal?: "," | ".";
  job: Record<string, unknown>;
}

/** One corner on the plan with its inside angle. */
export interface CornerDrawing {
  name: string;
  label: Label;
  at: [number, number];
  angle: Figure;
  ellipse: string;
  known_to: Figure | null;
}

/** A corner of the pattern that a mark may be: ``typed`` are its x and y as the job takes them. */
export interface CornerToMeasure {
  words: string;
  typed: [string, string];
}

/** Lattice row and place that carry number 1, so that numbers stay when the room is read again. */
export interface CountFrom {
  row: number;
  place: number;
}

/** From ``at`` mm on, counted from ``about``, the pattern gains ``by`` more mm for each mm. */
export interface CreepChanged {
  way: "across" | "along";
  at: number;
  by: number;
}

/** What the pattern gains along or across its rows: with each, at the front row now, and at the last. */
export interface CreepRow {
  name: string;
  gain: Figure;
  front: Figure;
  last: Figure;
}

/** The tools and what the user accepts. */
export interface Cutting {
  kerf?: number;
  gap_tolerance?: number;
  sliver?: number;
  saw_step?: number;
  detents?: (number)[];
  largest_left?: number;
  largest_right?: number;
  face?: "down" | "up";
  hand_clearance?: number;
  tools?: ("jigsaw" | "mitre saw" | "table saw" | "track saw")[];
  marked_on?: "back" | "face";
  blade_takes?: "beyond the line" | "half the line";
  saw_error?: number;
  saw_reach?: number;
  guide?: number;
  trim?: number;
  glue_first?: boolean;
  offcuts?: boolean;
  board_order?: "laying" | "saw";
}

/** A distance square to the datum line at ``station``, or where the line meets an end wall. */
export interface DatumReading {
  of: "datum";
  id: string;
  typed: string;
  unit?: "cm" | "in" | "m" | "mm";
  instrument?: string;
  time?: string;
  corrects?: string | null;
  side: "ahead" | "behind" | "left" | "right";
  station?: number;
}

/** The smallest piece along one wall by each measure; ``decides`` is the key of the one that counts. */
export interface EdgeRow {
  name: string;
  figures: (Figure)[];
  decides: string;
}

/** A wall along which the pieces should be large. Twice the ``weight`` asks for pieces twice as large. */
export interface EdgeThatMatters {
  from: string;
  to: string;
  weight?: number;
}

/** A fault of the engine's own; ``trace`` is for its makers. */
export interface FaultReply {
  reply: "fault";
  name: string;
  message: string;
  trace: string;
}

/** One computed value as shown, and what it was computed from. */
export interface Figure {
  key: string;
  label: string;
  text: string;
  unit?: string;
  formula: string;
  inputs?: ([string, string])[];
}

/** One thing found in a job or plan. */
export interface Finding {
  path: string;
  code: string;
  sentence: string;
  level?: "error" | "note" | "warning";
}

/** The first boards where the lines cross, numbered in the order of laying. */
export interface FirstBoards {
  view_box: [number, number, number, number];
  lines: (string)[];
  boards: (BoardPicture)[];
  words: (string)[];
}

/** One fixed thing on the plan. ``places`` are its centre, or the points of its outline, in the room. */
export interface FixedDrawing {
  name: string;
  path: string;
  label: Label;
  places: (Figure)[];
}

/** Something the floor goes round: an ``outline``, or a round ``centre`` and ``diameter``. */
export interface FixedThing {
  name: string;
  kind?: "chimney breast" | "column" | "door lining" | "island" | "opening" | "other" | "pipe" | "plinth" | "threshold";
  undercut?: boolean;
  by_lengths?: boolean;
  outline?: ([number, number])[] | null;
  centre?: [number, number] | null;
  diameter?: number | null;
  gap?: number;
  tolerance?: number | null;
}

/** The pattern and where it sits: ``axis`` is the row axis, ``anchor`` where the first two boards meet. */
export interface Floor {
  pattern?: string;
  board: Board;
  axis?: number;
  anchor: [number, number];
  strips?: number | null;
  angle?: number | null;
  stagger?: Stagger | null;
  count_from?: CountFrom | null;
}

/** The pieces in the room, over the same view box as the room drawing. */
export interface FloorDrawing {
  lay_area: string;
  pieces: (PieceDrawing)[];
  rows: (Label)[];
  lines: (Line)[];
}

/** The floor taken as it lies: from then on what is left is cut for where it lies. */
export interface FloorTaken {
  time?: string;
  anchor: [number, number];
  axis: number;
  pattern?: string;
  about: [number, number];
  ahead: number;
  left: number;
  turn: number;
  creep_along: number;
  creep_across: number;
  change?: CreepChanged | null;
  keeps?: (string)[];
  spare?: Record<string, string>;
}

/** How a figure is computed and where that comes from. */
export interface Formula {
  words: string;
  expression: string;
  source: string;
}

/** Pieces to be joined and cut in one, where they lie in the room. */
export interface GlueUpDrawing {
  pieces: (string)[];
  view_box: [number, number, number, number];
  blanks: (string)[];
  keep: (string)[];
  walls: (string)[];
  cuts: (string)[];
  labels: (Label)[];
  mark_labels: (Label)[];
  figures: (Figure)[];
  steps: (string)[];
  cautions: (string)[];
}

/** Pieces that are cut and meet the same fate; ``pieces`` are their ids, and where else they fit. */
export interface HeldRow {
  fate: string;
  words: string;
  count: string;
  pieces: (string)[];
}

/** How far the search is: ``part`` from 0 to 1, ``is_done`` when it is at its end. */
export interface ImproveReply {
  reply: "improve";
  programme: string;
  together: ((string)[])[];
  proofs: Record<string, ProvenBoards>;
  saved: number;
  figures: (Figure)[];
  words: string;
  part: number;
  is_done: boolean;
}

/** What comes next in the search for boards that can be saved, once these programmes are ``solved``? */
export interface ImproveRequest {
  ask: "improve";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  solved?: (SolvedProgramme)[];
  under_way?: SoFar | null;
  seconds: number;
}

/** What was measured with. ``accuracy`` is ± mm at 95 %; without it the kind's usual one is taken. */
export interface Instrument {
  name: string;
  kind?: "laser" | "rule" | "tape";
  accuracy?: number | null;
}

/** One floor. */
export interface Job {
  format?: "out-of-true job";
  version?: number;
  name?: string;
  room: Room;
  floor: Floor;
  cutting?: Cutting;
  progress?: Record<string, PieceProgress>;
  long_cuts?: (LongCut)[];
  shared_boards?: ((string)[])[];
  proven_boards?: Record<string, ProvenBoards>;
  laid?: Laid | null;
  setting_out?: SettingOut | null;
  survey?: Survey | null;
  photos?: (Photo)[];
}

/** Another place for the pattern, kept to be compared. */
export interface KeptPlace {
  anchor: [number, number];
  axis: number;
}

/** The pace of one kind of piece; ``rate`` is None when too few were timed. */
export interface KindPaceShown {
  kind_text: string;
  rate: Figure | null;
  left: string;
}

/** A short text and where it stands on a drawing; ``turn`` in degrees clockwise. */
export interface Label {
  text: string;
  at: [number, number];
  turn?: number;
}

/** ``left`` and ``top`` lie before the first label, ``across`` and ``down`` are the steps between labels. */
export interface LabelGrid {
  columns: number;
  rows: number;
  left: number;
  top: number;
  width: number;
  height: number;
  across: number;
  down: number;
}

/** All readings in the order in which they were taken, and each time the floor was taken as it lies. */
export interface Laid {
  readings?: (LaidReading)[];
  taken?: (FloorTaken)[];
}

/** The board as it lies in the room, ``near`` what is seen of the floor around it. */
export interface LaidBoardReply {
  reply: "laid board";
  near: [number, number, number, number];
  path: string;
  letters: number;
  corners: (LaidCorner)[];
}

/** Which corners of this piece can be read, and to what? */
export interface LaidBoardRequest {
  ask: "laid board";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  piece: string;
}

/** A corner that is left on a board, and what it can be read to. */
export interface LaidCorner {
  end: string;
  side: string;
  name: string;
  at: [number, number];
  targets: (LaidTarget)[];
}

/** The distance from a corner of a laid board to a wall or to a line that was struck. */
export interface LaidReading {
  id: string;
  typed: string;
  unit?: "cm" | "in" | "m" | "mm";
  instrument?: string;
  time?: string;
  corrects?: string | null;
  piece: string;
  end: "far" | "start";
  side: "left" | "right";
  to: string;
  sd?: number | null;
}

/** One reading on the laid floor that is used: as read, and against the others. */
export interface LaidReadingRow {
  id: string;
  name: string;
  typed: string;
  residual: Figure;
  is_doubted: boolean;
}

/** A wall or line that a corner can be read to: ``to`` in files, ``name`` for people; how far by plan. */
export interface LaidTarget {
  to: string;
  name: string;
  planned: string;
}

/** The order of laying. ``numbers`` by piece, ``waiting`` the cut pieces that are laid last. */
export interface LayingDrawing {
  field: string;
  numbers: Record<string, string>;
  waiting: (string)[];
  figures: (Figure)[];
  words: (string)[];
}

/** The straight length between two corners. */
export interface LengthReading {
  of: "length";
  id: string;
  typed: string;
  unit?: "cm" | "in" | "m" | "mm";
  instrument?: string;
  time?: string;
  corrects?: string | null;
  from: string;
  to: string;
}

/** One measured length against all others. ``is_doubted``: it is among those most likely wrong. */
export interface LengthRow {
  from: string;
  to: string;
  name: string;
  path: string;
  observed: Figure;
  residual: Figure;
  smallest_blunder: Figure;
  is_doubted: boolean;
}

/** Places of a map that are worth about the same. ``cells`` is to be filled, ``line`` drawn round them. */
export interface Levels {
  label: Label;
  cells: string;
  line: string;
}

/** A line to strike or a mark on the floor. */
export interface Line {
  path: string;
  label: Label;
}

/** A board that the cut goes through. ``take`` says what to lay of it, ``flags`` what to know of it. */
export interface LongBoard {
  id: string;
  path: string;
  take: string;
  rough: Figure;
  flags: (string)[];
}

/** One straight cut along a whole wall, for a last row that is laid long and taken up as one unit. */
export interface LongCut {
  from: string;
  to: string;
  marks?: (LongMark)[];
  gap?: number | null;
  depth?: number | null;
  guide?: number | null;
  guide_on?: "floor" | "waste";
  allowance?: number;
}

/** One long cut, the wall above and the floor below, as one who kneels before it sees them. */
export interface LongCutDrawing {
  wall: string;
  is_measured: boolean;
  note: string;
  view_box: [number, number, number, number];
  edge: string;
  cut: string;
  guide: string;
  boards: (LongBoard)[];
  labels: (Label)[];
  mark_labels: (Label)[];
  figures: (Figure)[];
  marks: (MarkShown)[];
  steps: (string)[];
  cautions: (string)[];
  corners: (CornerToMeasure)[];
}

/** A mark on the laid floor: ``at`` in the room as planned, and its measured ``distance`` to the wall. */
export interface LongMark {
  at: [number, number];
  distance: number;
}

/** One point of a marked curve: ``along`` from the kept end, ``across`` from the right long edge. */
export interface Mark {
  along: string;
  across: string;
}

/** One mark on the floor: ``ties`` are the two tapes that fix it, ``check`` a third one. */
export interface MarkDrawing {
  number: string;
  label: Label;
  tapes: string;
  ties: (Figure)[];
  check: Figure | null;
  along: Figure | null;
  known_to: Figure;
  words: string;
}

/** A mark as measured: its distance to cut and guide, and how it goes with the others. */
export interface MarkShown {
  place: string;
  to_cut: Figure;
  to_guide: Figure | null;
  residual: Figure | null;
  is_doubted: boolean;
}

/** The differences in words; ``fault`` says why the piece cannot be cut to these lengths. */
export interface MeasuredReply {
  reply: "measured";
  differences: (string)[];
  fault?: Finding | null;
}

/** How do these lengths, measured at the wall, stand to those of the plan? */
export interface MeasuredRequest {
  ask: "measured";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  piece: string;
  left?: number | null;
  right?: number | null;
}

/** There is more to do before the answer: the same is to be asked again. */
export interface MoreReply {
  reply: "more";
}

/** ``boards`` are drawn moved ``by`` their transform and clipped by the lay area. */
export interface MovedReply {
  reply: "moved";
  anchor: [number, number];
  at: [number, number];
  by: string;
  boards: string;
  taps: (MovedTo)[];
}

/** Where do the boards lie? Answered at once: the picture follows a finger. */
export interface MovedRequest {
  ask: "moved";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  at?: [number, number] | null;
  step?: number;
}

/** ``anchor`` is where the boards meet, ``at`` where that lies on the map, ``by`` their transform. */
export interface MovedTo {
  anchor: [number, number];
  at: [number, number];
  by: string;
}

/** Where the next reading on a wall tells most. ``typed`` is the station as a form takes it, in mm. */
export interface NextReading {
  typed: string;
  station: Figure;
  gain: Figure;
}

/** One reading on a wall at ``station``. */
export interface OffsetReading {
  of: "offset";
  id: string;
  typed: string;
  unit?: "cm" | "in" | "m" | "mm";
  instrument?: string;
  time?: string;
  corrects?: string | null;
  from: string;
  to: string;
  station: number;
  by?: "bow" | "line" | "straightedge";
  stand_off?: number;
  stand_off_end?: number | null;
  touches?: [number, number] | null;
  check?: boolean;
}

/** A wall or opening to whose middle a row axis can be brought; ``ends`` are its two corners. */
export interface OpeningChoice {
  name: string;
  words: string;
  ends: [[number, number], [number, number]];
}

/** The same readings taken as another shape. */
export interface OtherShape {
  curve: string;
  path: string;
}

/** Each None until enough pieces were marked one after the other. */
export interface PaceReply {
  reply: "pace";
  cutting: PaceShown | null;
  fitting: PaceShown | null;
  formulas: Record<string, Formula>;
}

/** How fast does the work go, and how long will what is left take? */
export interface PaceRequest {
  ask: "pace";
  decimal?: "," | ".";
  pieces: (PieceMarks)[];
}

/** The pace of cutting or fitting, and the time left; ``words`` say what it rests on. */
export interface PaceShown {
  title: string;
  rate: Figure;
  left: Figure;
  kinds: (KindPaceShown)[];
  words: string;
}

/** A laying pattern to choose. ``uses`` are the fields of the floor that only some patterns take. */
export interface PatternChoice {
  name: string;
  uses: (string)[];
}

/** A picture of one wall, named by its two corners, or of one fixed thing. */
export interface Photo {
  id: string;
  wall?: [string, string] | null;
  thing?: string | null;
  time?: string;
  jpeg?: string | null;
}

/** One piece where it lies in the room. */
export interface PieceDrawing {
  id: string;
  path: string;
  hand: "L" | "R";
  kind: string;
  sliver: boolean;
  at: [number, number];
}

/** A piece to cut, with when it was marked as ISO 8601, empty when it was not or nobody knows when. */
export interface PieceMarks {
  kind: "corner" | "crosscut" | "hole" | "mitre" | "notch" | "rip" | "scribe" | "taper" | "whole";
  is_cut: boolean;
  is_fitted: boolean;
  cut_at?: string;
  fitted_at?: string;
}

/** What has been done with one piece. */
export interface PieceProgress {
  cut?: boolean;
  fitted?: boolean;
  spoiled?: number;
  board?: string;
  cut_at?: string;
  fitted_at?: string;
  left?: number | null;
  right?: number | null;
}

/** Slivers and boards of the floor at a place, as in the plan's summary. */
export interface PlaceCountsReply {
  reply: "place counts";
  counts: (Figure)[];
  formulas: Record<string, Formula>;
}

/** How many slivers and boards does the pattern leave where the job puts it? */
export interface PlaceCountsRequest {
  ask: "place counts";
  decimal?: "," | ".";
  job: Record<string, unknown>;
}

/** A map of all places. Across it the pattern moves across its rows, up it along them. */
export interface PlaceMapReply {
  reply: "place map";
  view_box: [number, number, number, number];
  levels: (Levels)[];
  words: string;
}

/** What is every place of the pattern worth? */
export interface PlaceMapRequest {
  ask: "place map";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  in_slices?: boolean;
}

/** One coordinate of a corner, from two crossed lines. */
export interface PlaceReading {
  of: "place";
  id: string;
  typed: string;
  unit?: "cm" | "in" | "m" | "mm";
  instrument?: string;
  time?: string;
  corrects?: string | null;
  corner: string;
  axis: "x" | "y";
}

/** ``worth`` is the smallest piece over its weight, by the job's measure. */
export interface PlaceReply {
  reply: "place";
  worth: Figure;
  edges: (EdgeRow)[];
  missed: (string)[];
  formulas: Record<string, Formula>;
}

/** What lies along the edges that matter? */
export interface PlaceRequest {
  ask: "place";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  at?: [number, number] | null;
  in_slices?: boolean;
}

/** The whole plan, and what a room's reply has. */
export interface PlanReply {
  reply: "plan";
  plan: Record<string, unknown>;
  room: RoomDrawing;
  floor: FloorDrawing;
  cards: (Card)[];
  summary: (Figure)[];
  formulas: Record<string, Formula>;
  findings: (Finding)[];
  setting_out: SettingOutSheet;
  count_from: Record<string, number>;
  long_cuts: (LongCutDrawing | null)[];
  boards: (BoardDrawing)[];
  glue_ups: (GlueUpDrawing)[];
  saving: Saving;
  patterns: (PatternChoice)[];
}

/** Compute the whole plan. */
export interface PlanRequest {
  ask: "plan";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  exaggerate?: number;
}

/** One length of a piece as worked out: of which ``side`` of the board's face, and what that is called. */
export interface PlannedLength {
  side: "left" | "right";
  name: string;
  text: string;
}

/** Sent while a long computation goes on. */
export interface Progress {
  step: string;
  done?: number;
}

/** One thing to do: in a few words, and in a sentence. */
export interface ProposalRow {
  kind: string;
  title: string;
  sentence: string;
  can: boolean;
  best: boolean;
}

/** It was proved that the cut pieces of a hand take so many boards at least. */
export interface ProvenBoards {
  least: number;
  of: string;
}

/** One reading on a wall, ``path`` its mark. ``typed`` is its station in mm as the job has it. */
export interface ReadingMark {
  station: string;
  typed: string;
  offset: string;
  path: string;
  is_check: boolean;
}

/** ``understood`` is the reading as it is taken, to be shown and read out. */
export interface ReadingReply {
  reply: "reading";
  understood: string;
  question?: Finding | null;
}

/** Is this reading understood, and does it go with the others? ``reading`` as in the job's survey. */
export interface ReadingRequest {
  ask: "reading";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  reading: Record<string, unknown>;
}

/** The job cannot be computed as it stands. */
export interface RefusedReply {
  reply: "refused";
  findings: (Finding)[];
}

/** Corners counter-clockwise, the walls between them, ties and fixed things. */
export interface Room {
  corners?: Record<string, [number, number]> | null;
  walls: (Wall)[];
  ties?: (Tie)[];
  fixed?: (FixedThing)[];
}

/** The room to scale. */
export interface RoomDrawing {
  view_box: [number, number, number, number];
  outline: string;
  walls: (WallDrawing)[];
  corners: (CornerDrawing)[];
  fixed: (FixedDrawing)[];
  lengths: (LengthRow)[];
  figures: (Figure)[];
}

/** The room, with what was found on the way. ``patterns`` are all there are to choose from. */
export interface RoomReply {
  reply: "room";
  room: RoomDrawing;
  formulas: Record<string, Formula>;
  findings: (Finding)[];
  patterns: (PatternChoice)[];
}

/** Draw the room. ``exaggerate`` is how many times larger offsets are drawn in ``bowed``. */
export interface RoomRequest {
  ask: "room";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  exaggerate?: number;
}

/** Whether a longer search could save boards, in words. */
export interface Saving {
  words: string;
  can_be_sought: boolean;
}

/** One board or offcut as it lies on the saw, or to be marked. */
export interface SawDrawing {
  number?: number;
  setting?: string;
  stop_text?: string;
  stop_length?: string;
  figures?: (string)[];
  view_box: [number, number, number, number];
  fence: string;
  stop: string;
  words: string;
  board: string;
  keep: string;
  waste: string;
  joined?: (string)[];
  cuts: (string)[];
  labels: (Label)[];
}

/** Where the pattern should sit. */
export interface SettingOut {
  edges?: (EdgeThatMatters)[];
  measure?: "area" | "long_point" | "short_side";
  through?: (Through)[];
  axis_within?: number;
  locked?: boolean;
  kept?: KeptPlace | null;
}

/** All that is set out on the floor before the first board. */
export interface SettingOutSheet {
  as_it_lies: string;
  before_change: string;
  through: string;
  openings: (OpeningChoice)[];
  shut: string;
  lines: (StrikeDrawing)[];
  letters: number;
  square: SquareDrawing | null;
  first: FirstBoards;
  in_hand: BoardsInHand;
  laying: LayingDrawing;
  cautions: (string)[];
}

/** File name to file text, and to the bytes of files that are no text (base64 on the way). */
export interface SheetsReply {
  reply: "sheets";
  files: Record<string, string>;
  binary_files: Record<string, string>;
  sizes: Record<string, string>;
  label_grids: (string)[];
  findings: (Finding)[];
}

/** Compute the files that leave the app, for printing on that ``paper``. */
export interface SheetsRequest {
  ask: "sheets";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  paper?: "A4" | "Letter";
  labels?: string;
  own_labels?: LabelGrid | null;
  first_label?: number;
  only?: ("corners.pdf" | "cuts.csv" | "cuts.pdf" | "labels.pdf" | "pieces.dxf" | "pieces.svg" | "plan.dxf" | "plan.json" | "plan.pdf" | "plan.svg" | "saw.pdf" | "scribes.pdf" | "setting-out.pdf")[] | null;
  best?: boolean;
}

/** How many slivers lie along all edges. */
export interface SliversReply {
  reply: "slivers";
  slivers: Figure;
  formulas: Record<string, Formula>;
}

/** How many slivers lie along all edges? */
export interface SliversRequest {
  ask: "slivers";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  at?: [number, number] | null;
  in_slices?: boolean;
}

/** How far the solver is with a programme: its best solution and lower bound, None while there is none. */
export interface SoFar {
  found?: number | null;
  bound?: number | null;
}

/** What the solver gave for a programme: the columns' values, in their order, and its lower bound. */
export interface SolvedProgramme {
  values?: (number)[];
  bound?: number | null;
}

/** The 3-4-5 over two of the lines; ``diagonals`` are drawn dashed. */
export interface SquareDrawing {
  path: string;
  diagonals: string;
  labels: (Label)[];
  figures: (Figure)[];
  words: (string)[];
}

/** How far the end joints of one row lie from those of the next, in mm along the row. */
export interface Stagger {
  by?: number | null;
  least?: number | null;
  seed?: number | null;
}

/** One line to strike, from mark to mark. ``laser``: how far corners lie from it, to its left or right. */
export interface StrikeDrawing {
  name: string;
  is_struck: boolean;
  path: string;
  words: string;
  length: Figure;
  marks: (MarkDrawing)[];
  laser: (Figure)[];
  field: (Figure)[];
}

/** All readings in the order in which they were taken, and the instruments they name. */
export interface Survey {
  instruments?: (Instrument)[];
  readings?: (LengthReading | PlaceReading | OffsetReading | DatumReading | ThingReading)[];
}

/** The length from a corner to a point of a fixed thing, which two of them put in its place. */
export interface ThingReading {
  of: "thing";
  id: string;
  typed: string;
  unit?: "cm" | "in" | "m" | "mm";
  instrument?: string;
  time?: string;
  corrects?: string | null;
  thing: string;
  point?: number;
  from: string;
}

/** An opening through whose middle a row axis runs, exactly or ``within`` so many mm of it. */
export interface Through {
  from: [number, number];
  to: [number, number];
  within?: number;
}

/** A measured length between two corners that is not a wall. */
export interface Tie {
  from: string;
  to: string;
  length: number;
  sd?: number | null;
}

/** One side of the room between two corners, room interior on its left. */
export interface Wall {
  from: string;
  to: string;
  face?: "fixed" | "glazing" | "opening" | "threshold" | "wall";
  gap?: number;
  tolerance?: number | null;
  curve?: "arc" | "smooth" | "straight";
  offsets?: ([number, number])[];
  breaks?: (number)[];
  offset_sd?: number | null;
  checks?: ([number, number])[];
  next_floor?: number | null;
  length?: number | null;
  sd?: number | null;
}

/** ``words`` tell the difference. ``readings`` are to be added, those in ``stands_in_for`` taken back. */
export interface WallCorrectionReply {
  reply: "wall correction";
  words: (string)[];
  wall?: number | null;
  offsets?: ([number, number])[];
  readings?: (WallReading)[];
  stands_in_for?: (string)[];
}

/** What do these lengths, measured at the wall, say of their wall, and what would others become? */
export interface WallCorrectionRequest {
  ask: "wall correction";
  decimal?: "," | ".";
  job: Record<string, unknown>;
  piece: string;
  left?: number | null;
  right?: number | null;
}

/** One wall on the plan. ``bowed`` is the wall with its offsets drawn larger. */
export interface WallDrawing {
  name: string;
  heading: string;
  ends: [[number, number], [number, number]];
  face: string;
  path: string;
  bowed: string;
  profile: WallProfile;
  label: Label;
  length: Figure;
  bow: Figure;
  next: NextReading;
  proposal: string;
  proposal_words: string;
  spacing: (Figure)[];
}

/** Where the pattern will end at a wall, and the smallest piece there as planned and as the floor lies. */
export interface WallEndRow {
  wall: string;
  off: Figure;
  way: string;
  planned: Figure;
  now: Figure;
  warning: string;
}

/** One wall drawn along itself, offsets much larger, the room above. */
export interface WallProfile {
  view_box: [number, number, number, number];
  line: string;
  path: string;
  band: string;
  others: (OtherShape)[];
  readings: (ReadingMark)[];
  next: string;
  labels: (Label)[];
  words: string;
}

/** A reading to add to the job's survey: the wall's offset at a station, as bow. */
export interface WallReading {
  from: string;
  to: string;
  station: number;
  typed: string;
}

export type Request = AsLaidRequest | BestPlaceRequest | CheckRequest | ImproveRequest | LaidBoardRequest | MeasuredRequest | MovedRequest | PaceRequest | PlaceCountsRequest | PlaceMapRequest | PlaceRequest | PlanRequest | ReadingRequest | RoomRequest | SheetsRequest | SliversRequest | WallCorrectionRequest;

export type Reply = AsLaidReply | BestPlaceReply | CheckReply | FaultReply | ImproveReply | LaidBoardReply | MeasuredReply | MoreReply | MovedReply | PaceReply | PlaceCountsReply | PlaceMapReply | PlaceReply | PlanReply | ReadingReply | RefusedReply | RoomReply | SheetsReply | SliversReply | WallCorrectionReply;
