"""The site file: what may be declared, how it is read, and where in the file each thing stands."""
