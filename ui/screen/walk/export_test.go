package walk

// What the tests beside the package must know to answer as a person does.

type (
	Answer = answer
	Mode   = mode
)

const (
	PickOption = pickOption
	TypeNumber = typeNumber
	TypeText   = typeText
)

var (
	ModeOf    = modeOf
	Lettered  = lettered
	AnswersOf = answersOf
	RowNow    = rowNow
	SoFar     = soFar
)

func (a answer) Letter() rune { return a.letter }
func (a answer) Says() string { return a.says }
