package config

import "path/filepath"

// Folder is where config.toml and the operator's own procedures are: $XDG_CONFIG_HOME/oilcan, else
// ~/.config/oilcan; "" where neither is known. A value that is no absolute path is passed over, as
// the XDG base directory specification demands.
func Folder(env func(string) string) string {
	return under(env, "XDG_CONFIG_HOME", ".config")
}

// Procedures is the folder of the operator's own procedures; "" where no folder is known.
func Procedures(env func(string) string) string {
	if f := Folder(env); f != "" {
		return filepath.Join(f, "procedures")
	}
	return ""
}

// DataFile is where the bench is kept unless told otherwise: bench.oilcan in $XDG_DATA_HOME/oilcan,
// else in ~/.local/share/oilcan; "" where neither is known.
func DataFile(env func(string) string) string {
	if f := under(env, "XDG_DATA_HOME", filepath.Join(".local", "share")); f != "" {
		return filepath.Join(f, "bench.oilcan")
	}
	return ""
}

// ReportFile is where a mistake of the program itself is written down: report.txt in
// $XDG_STATE_HOME/oilcan, else in ~/.local/state/oilcan; "" where neither is known.
func ReportFile(env func(string) string) string {
	if f := under(env, "XDG_STATE_HOME", filepath.Join(".local", "state")); f != "" {
		return filepath.Join(f, "report.txt")
	}
	return ""
}

func under(env func(string) string, name, home string) string {
	if v := env(name); filepath.IsAbs(v) {
		return filepath.Join(v, "oilcan")
	}
	if h := env("HOME"); filepath.IsAbs(h) {
		return filepath.Join(h, home, "oilcan")
	}
	return ""
}
