// Command nothing does nothing: what starting a program costs.
package main

func main() {}
