"""Job files, inspections and questions read into the model; every mistake a fault."""
