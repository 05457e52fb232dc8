"""The surfaces of Gripwright: its operations and the command line that shows them."""
