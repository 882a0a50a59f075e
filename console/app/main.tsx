import '../theme/index.ts';
import { MantineProvider } from '@mantine/core';
import { QueryClientProvider } from '@tanstack/react-query';
import { RouterProvider } from '@tanstack/react-router';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { theme } from '../theme/theme.ts';
import { queryClient } from './queryClient.ts';
import { router } from './router.ts';

const root = document.getElementById('root');
if (root) {
  createRoot(root).render(
    <StrictMode>
      {/* Its variables and classes come with the style sheet: the policy allows no <style> made at run time. */}
      <MantineProvider
        theme={theme}
        defaultColorScheme="auto"
        withCssVariables={false}
        withGlobalClasses={false}
      >
        <QueryClientProvider client={queryClient}>
          <RouterProvider router={router} />
        </QueryClientProvider>
      </MantineProvider>
    </StrictMode>,
  );
}
