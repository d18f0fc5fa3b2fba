package screen

// rooms makes the screen of a place: the one table of them.
func rooms(e *Env, to any) Screen {
	switch to := to.(type) {
	case ToMachine:
		return newMachine(e, to.Machine)
	case ToMachineForm:
		return newMachineForm(e, to.Machine)
	case ToCareList:
		return newCareList(e, to.Machine)
	case ToClearTag:
		return newClearTag(e, to.Machine)
	case ToRetire:
		return newRetire(e, to.Machine)
	case ToMeters:
		return newMeters(e, to.Machine)
	case ToFindings:
		return newFindings(e, to.Machine)
	case ToLives:
		return newLives(e, to.Machine)
	case ToBook:
		return newBook(e, to.Machine)
	case ToPrintFile:
		return newJob(e, to.Machine)
	case ToSymptom:
		return newSymptom(e, e.Desk, to.Machine)
	case ToPlan:
		return newPlan(e, e.Desk, to)
	case ToWalk:
		return newWalk(e, e.Desk, to.Session, to.Fresh)
	case ToSummary:
		return newSummary(e, e.Desk, to.Session)
	case ToDrawer:
		return newDrawer(e)
	case ToMaterials:
		return newMaterials(e)
	}
	return nil
}
