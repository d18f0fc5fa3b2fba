package model

// Stopped tells whether a stop finding locks the machine's power; no machine is not stopped.
func (m *Machine) Stopped() bool { return m != nil && m.Tag != nil && m.Tag.Kind == TagStopped }

// StopNow is what to do at a machine that is stopped, the same words wherever it is said.
const StopNow = "Switch off. Pull the plug if you can reach it without crossing the hazard. On smoke, scorch smell or a hot " +
	"chamber the door stays shut; on flames leave, cut the circuit, call for help."
