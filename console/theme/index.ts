// The styles of the parts of Mantine that are used, in the order in which it wants them; then ours.
import '@mantine/core/styles/baseline.css';
import '@mantine/core/styles/default-css-variables.css';
import '@mantine/core/styles/global.css';
import '@mantine/core/styles/UnstyledButton.css';
import '@mantine/core/styles/VisuallyHidden.css';
import '@mantine/core/styles/Loader.css';
import '@mantine/core/styles/Input.css';
import '@mantine/core/styles/Button.css';
import 'virtual:theme-variables.css';
import './tokens.css';
import './base.css';
