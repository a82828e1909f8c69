namespace frisket {}
